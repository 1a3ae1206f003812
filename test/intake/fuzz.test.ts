import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readVisionPrescription } from '../../src/intake/fhir.ts';
import { fieldNames, fullTemplateHeads } from '../../src/intake/quantities.ts';
import { type Intake, readCsv } from '../../src/intake/readCsv.ts';
import { readForm } from '../../src/intake/readForm.ts';
import { readJson } from '../../src/intake/readJson.ts';

const OPTIONS = { country: 'US', invented: false, today: '2026-11-25' } as const;

/** Whatever comes in: every line is taken, told, or the same as another; and every problem says how to mend it. */
function expectWhole(intake: Intake): void {
  for (const { problems } of intake.refused) {
    expect(problems.length).toBeGreaterThan(0);
    for (const problem of problems) {
      for (const part of [
        problem.code,
        problem.what,
        problem.where,
        problem.mend,
        problem.column,
        problem.allowed,
      ]) {
        expect(part).not.toBe('');
      }
    }
  }
  for (const { job } of intake.jobs) {
    expect(job.wearer.name).toMatch(/\p{L}/u);
    for (const { value } of job.facts) {
      if (Array.isArray(value)) expect(value.every(Number.isFinite)).toBe(true);
      if (Array.isArray(value)) expect(value[1]).toBeLessThanOrEqual(0);
    }
  }
}

const odd = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc.constantFrom(
    '-2.00 -0.50 x 90',
    '31/30',
    'yes',
    '2026-11-03',
    '"',
    '""',
    'plano',
    '1e999',
    '-0',
    '٣',
    '0x10',
    'NaN',
    '9'.repeat(300),
  ),
);

describe('whatever bytes come in', () => {
  it('CSV never throws', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => expectWhole(readCsv(bytes, OPTIONS))),
      { numRuns: 400 },
    );
  });

  it('CSV with known heads and odd cells never throws, and takes or tells every line', () => {
    const heads = fullTemplateHeads();
    const cell = (text: string) => `"${text.replaceAll('"', '""')}"`;
    const line = fc.array(odd, { minLength: heads.length, maxLength: heads.length });
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 4 }), (lines) => {
        const text = [heads, ...lines].map((cells) => cells.map(cell).join(',')).join('\n');
        const intake = readCsv(text, OPTIONS);
        expectWhole(intake);
        const filled = lines.filter((cells) => cells.some((held) => held.trim() !== '')).length;
        expect(intake.jobs.length + intake.refused.length + intake.notes.sameLines.length).toBe(filled);
      }),
      { numRuns: 150 },
    );
  });

  it('one odd cell in a good line spoils at most that cell', () => {
    const names = fieldNames();
    const good = { job_number: '1', name: 'Ann Example', lens_design: 'Generic 14' };
    fc.assert(
      fc.property(fc.constantFrom(...names), odd, (name, text) => {
        const reading = readForm({ ...good, [name]: text }, OPTIONS);
        if (!reading.ok)
          for (const problem of reading.problems) expect(problem.field.startsWith(name)).toBe(true);
      }),
      { numRuns: 1500 },
    );
  });

  it('JSON never throws', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary' }), (text) => void readJson(text, OPTIONS)));
    fc.assert(fc.property(fc.json(), (text) => void readJson(text, OPTIONS)));
    const entry = fc.dictionary(
      fc.constantFrom(...fieldNames(), 'wearer', 'dates', 'order', '__proto__'),
      fc.jsonValue(),
    );
    fc.assert(fc.property(fc.array(entry), (entries) => void readJson(JSON.stringify(entries), OPTIONS)));
  });

  it('FHIR never throws', () => {
    fc.assert(fc.property(fc.jsonValue(), (resource) => void readVisionPrescription(resource)));
    const lens = fc.record(
      {
        eye: fc.constantFrom('right', 'left'),
        product: fc.constant({}),
        sphere: fc.double(),
        cylinder: fc.double(),
        axis: fc.integer(),
        add: fc.double(),
        prism: fc.array(fc.record({ amount: fc.double(), base: fc.constantFrom('up', 'down', 'in', 'out') })),
      },
      { requiredKeys: ['eye', 'product'] },
    );
    fc.assert(
      fc.property(fc.array(lens, { maxLength: 3 }), (lensSpecification) => {
        void readVisionPrescription({
          resourceType: 'VisionPrescription',
          status: 'active',
          lensSpecification,
        });
      }),
    );
  });
});

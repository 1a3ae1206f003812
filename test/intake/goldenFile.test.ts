import { describe, expect, it } from 'vitest';
import { dryRun, type JobHere } from '../../src/intake/dryRun.ts';
import { rowDigest } from '../../src/intake/job.ts';
import { readCsv, readCsvSteps } from '../../src/intake/readCsv.ts';
import { goldenFile, seeded, WAYS } from './goldenFile.ts';

const SEED = 20261125;
const options = { country: 'US', invented: true, today: '2026-11-25' } as const;

describe('a file of 1,000 lines with 37 bad in 20 ways', () => {
  const { text, faults } = goldenFile(SEED);
  const intake = readCsv(text, options);

  it('is planted as said', () => {
    expect(faults.length).toBe(37);
    expect(WAYS.length).toBe(20);
    expect(new Set(faults.map(({ code }) => code)).size).toBe(20);
  });

  it('takes 963 jobs in', () => {
    expect(intake.jobs.length).toBe(963);
    expect(intake.notes.lines).toBe(1000);
  });

  it('tells each of the 37 with its line, its column, what was found, what is allowed and how to mend it', () => {
    const told = intake.refused.map(({ line, problems }) => {
      const [problem] = problems;
      return { line, code: problem?.code, column: problem?.column, count: problems.length };
    });
    const planted = [...faults].sort((one, other) => one.line - other.line);
    expect(told.map(({ line, code }) => ({ line, code }))).toEqual(
      planted.map(({ line, code }) => ({ line, code })),
    );
    told.forEach(({ column, count }, index) => {
      expect(column).toContain(`“${planted[index]!.head}”`);
      expect(count).toBe(1);
    });
    for (const { line, problems } of intake.refused) {
      for (const problem of problems) {
        expect(problem.where).toContain(`line ${line}`);
        expect(problem.allowed.length).toBeGreaterThan(0);
        expect(problem.mend.length).toBeGreaterThan(0);
        expect(problem.what.length).toBeGreaterThan(0);
      }
    }
  });

  it('gives the same result twice, and the second time nothing is new', () => {
    const again = readCsv(text, options);
    expect(again).toEqual(intake);
    const here = new Map<string, JobHere>(
      intake.jobs.map(({ job }) => [job.jobNumber, { digest: rowDigest(job), job }]),
    );
    const second = dryRun(again, here);
    expect([second.fresh.length, second.same.length, second.changed.length, second.refused.length]).toEqual([
      0, 963, 0, 37,
    ]);
  });

  it('knows a job again however the columns and lines stand', () => {
    const random = seeded(7);
    const rows = text.trimEnd().split('\r\n');
    const [head, ...lines] = rows;
    const shuffled = lines
      .filter((_line, index) => !faults.some(({ line }) => line === index + 2))
      .map((line) => ({ line, at: random() }))
      .sort((one, other) => one.at - other.at)
      .map(({ line }) => line);
    const moved = readCsv([head, ...shuffled].join('\n'), options);
    const digests = (jobs: typeof intake.jobs) => jobs.map(({ job }) => rowDigest(job)).sort();
    expect(digests(moved.jobs)).toEqual(digests(intake.jobs));
  });

  it('counts who can never be messaged, and why', () => {
    const silent = intake.jobs.filter(({ job }) => job.neverMessaged !== undefined);
    const { noContact, noConsent } = intake.notes.neverMessaged;
    expect(noContact + noConsent).toBe(silent.length);
    expect(noContact).toBeGreaterThan(0);
    expect(noConsent).toBeGreaterThan(0);
    for (const { job } of intake.jobs) {
      const mayBeWritten = job.consent.given && job.consent.channels.length > 0;
      expect(job.neverMessaged === undefined).toBe(mayBeWritten);
    }
  });
});

describe('a hundred thousand lines', () => {
  it('are all read', () => {
    const lines = Array.from(
      { length: 100_000 },
      (_, index) => `J${index},Ann Example,,a${index}@example.com,yes,2026-11-03,Generic 14,yes`,
    );
    const text = `job number,name,phone,email,consent,handed over on,lens design,first multifocal\n${lines.join('\n')}`;
    const intake = readCsv(text, options);
    expect([intake.jobs.length, intake.refused.length]).toEqual([100_000, 0]);
  });

  it('can be read in steps that say how far it is, with the same result', () => {
    const { text } = goldenFile(SEED);
    const seen: string[] = [];
    const steps = readCsvSteps(text, options);
    let step = steps.next();
    while (!step.done) {
      seen.push(`${step.value.done} of ${step.value.total}`);
      step = steps.next();
    }
    expect(seen).toEqual(['500 of 1000']);
    expect(step.value).toEqual(readCsv(text, options));
  });
});

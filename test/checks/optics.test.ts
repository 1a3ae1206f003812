import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { transpose } from '../../src/optics/spheroCyl.ts';
import { type Given, OPTICS_ADAPTERS } from './optics.adapters.ts';

type Row = {
  readonly id: string;
  readonly topic: string;
  readonly given: Given;
  readonly expect: Readonly<Record<string, unknown>>;
  readonly tolerance: Readonly<Record<string, number>>;
  readonly source: string;
};

/** Where a row states no tolerance: below the last place that any row prints. */
const PRINTED = 0.0005;

const here = new URL('.', import.meta.url).pathname;
const rowsOf = (folder: string, file: string): readonly Row[] =>
  JSON.parse(readFileSync(join(folder, file), 'utf8')) as readonly Row[];

const LENS_KEYS = ['sphere_D', 'cylinder_D', 'axis_deg'] as const;

// The same lens may be printed in plus or in minus cylinder; a row on transposition itself is held to its own form.
const inTheRowsForm = (
  row: Row,
  found: Readonly<Record<string, unknown>>,
): Readonly<Record<string, unknown>> => {
  const isLens = LENS_KEYS.every(
    (key) => typeof row.expect[key] === 'number' && typeof found[key] === 'number',
  );
  if (row.topic === 'transposition' || !isLens) return found;
  if ((row.expect.cylinder_D as number) * (found.cylinder_D as number) >= 0) return found;
  const { sphereD, cylinderD, axisDeg } = transpose({
    sphereD: found.sphere_D as number,
    cylinderD: found.cylinder_D as number,
    axisDeg: found.axis_deg as number,
  });
  return { ...found, sphere_D: sphereD, cylinder_D: cylinderD, axis_deg: axisDeg };
};

const differs = (key: string, expected: unknown, found: unknown, tolerance: number): boolean => {
  // A field that is not there is absent, and a row may write that as null.
  if (typeof expected !== 'number') return expected !== (found ?? null);
  if (typeof found !== 'number') return true;
  const apart = Math.abs(expected - found);
  // Axes are lines: 1 and 179 are two degrees apart.
  const distance = /axis_deg$/.test(key) ? Math.min(apart % 180, 180 - (apart % 180)) : apart;
  return !(distance <= tolerance + 1e-9);
};

const complaints = (row: Row): string[] => {
  const adapter = OPTICS_ADAPTERS[row.topic];
  if (!adapter) return [`no adapter for the topic "${row.topic}"`];
  const found = inTheRowsForm(row, adapter(row.given));
  return Object.entries(row.expect).flatMap(([key, expected]) => {
    const tolerance = row.tolerance?.[key] ?? PRINTED;
    if (!(key in found)) return [`no answer for the key "${key}"`];
    const pairs = Array.isArray(expected)
      ? expected.map((one, at) => [one, (found[key] as unknown[])?.[at]])
      : [[expected, found[key]]];
    const lengths = Array.isArray(expected) && expected.length !== (found[key] as unknown[])?.length;
    return lengths || pairs.some(([one, other]) => differs(key, one, other, tolerance))
      ? [`${key}: expected ${JSON.stringify(expected)} ± ${tolerance}, found ${JSON.stringify(found[key])}`]
      : [];
  });
};

const sets = [
  { name: 'published values', rows: rowsOf(process.env.CHECKS_DIR ?? here, 'optics.json') },
  {
    name: 'our own rows, for every topic that the published set leaves out',
    rows: rowsOf(here, 'optics-own.json'),
  },
];

describe.each(sets)('optics against $name', ({ rows }) => {
  it('has rows, each with an id of its own', () => {
    expect(rows.length).toBeGreaterThan(0);
    expect(new Set(rows.map(({ id }) => id)).size).toBe(rows.length);
  });

  it.each(rows.map((row) => [row.id, row.topic, row.source, row] as const))(
    '%s %s (%s)',
    (_id, _topic, _source, row) => {
      expect(complaints(row)).toEqual([]);
    },
  );
});

describe('the checks themselves can fail', () => {
  it('a row whose topic is unknown is told by its topic', () => {
    expect(complaints(rowWith({ topic: 'colour of the frame' }))).toEqual([
      'no adapter for the topic "colour of the frame"',
    ]);
  });

  it('a value just outside its tolerance is told with both numbers', () => {
    const row = rowWith({ expect: { power_D: -9.73 }, tolerance: { power_D: 0.005 } });
    expect(complaints(row)).toEqual([
      expect.stringMatching(/^power_D: expected -9\.73 ± 0\.005, found -9\.719/),
    ]);
  });

  it('an axis is compared round the circle and a key without an answer is told', () => {
    const row = rowWith({
      topic: 'transposition',
      given: { sphere_D: 0, cylinder_D: -1, axis_deg: 90.5 },
      expect: { axis_deg: 179.9, colour: 'red' },
      tolerance: { axis_deg: 1 },
    });
    expect(complaints(row)).toEqual(['no answer for the key "colour"']);
  });

  it('every topic has a row in one of the two sets', () => {
    const covered = new Set(
      [...rowsOf(here, 'optics.json'), ...rowsOf(here, 'optics-own.json')].map(({ topic }) => topic),
    );
    expect(Object.keys(OPTICS_ADAPTERS).filter((topic) => !covered.has(topic))).toEqual([]);
  });
});

const rowWith = (changed: Partial<Row>): Row => ({
  id: 'x',
  topic: 'power in a meridian',
  given: { sphere_D: -8, cylinder_D: -2, axis_deg: 112, meridian_deg: 180 },
  expect: { power_D: -9.72 },
  tolerance: {},
  source: 'made for this test',
  ...changed,
});

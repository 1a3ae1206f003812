/**
 * Check values from outside, by topic. `CHECKS_DIR` names another folder with sets of the same form; rows there may point
 * to rows of the set that lies here.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { adapters, type Given } from './statistics.adapters.ts';

type Row = {
  readonly id: string;
  readonly topic: string;
  readonly given: Given;
  readonly expect: Record<string, unknown>;
  readonly tolerance?: number | Record<string, number>;
  readonly source: string;
};

const HERE = new URL('.', import.meta.url).pathname;
const PROSE = new Set(['meaning', 'why', 'whatWeDo']);

const setsIn = (folder: string): Row[] =>
  readdirSync(folder)
    .filter((name) => /^statistics.*\.json$/.test(name))
    .sort()
    .flatMap((name) => {
      const set: Row[] | { rows: Row[] } = JSON.parse(readFileSync(join(folder, name), 'utf8'));
      return Array.isArray(set) ? set : set.rows;
    });

const ours = setsIn(HERE);
const rows = process.env.CHECKS_DIR === undefined ? ours : setsIn(process.env.CHECKS_DIR);

function otherRow(id: string): Given {
  const found = rows.find((row) => row.id === id) ?? ours.find((row) => row.id === id);
  if (found === undefined) throw new Error(`no row is called ${id}`);
  return found.given;
}

/** Where the result leaves what is expected, as paths; empty when all agrees. */
function differences(expected: unknown, actual: unknown, allowed: number, path: string): string[] {
  if (typeof expected === 'number') {
    if (typeof actual !== 'number' || !(Math.abs(actual - expected) <= allowed + 1e-9 * Math.abs(expected))) {
      return [`${path}: expected ${expected} ± ${allowed}, got ${String(actual)}`];
    }
    return [];
  }
  if (Array.isArray(expected)) {
    const list =
      Array.isArray(actual) || actual === null || typeof actual !== 'object' ? actual : Object.values(actual);
    if (!Array.isArray(list) || list.length !== expected.length) {
      return [`${path}: expected ${JSON.stringify(expected)}, got ${JSON.stringify(actual)}`];
    }
    return expected.flatMap((value, at) => differences(value, list[at], allowed, `${path}[${at}]`));
  }
  if (expected !== null && typeof expected === 'object') {
    return Object.entries(expected).flatMap(([key, value]) =>
      differences(value, (actual as Record<string, unknown> | null)?.[key], allowed, `${path}.${key}`),
    );
  }
  return Object.is(expected, actual) ? [] : [`${path}: expected ${String(expected)}, got ${String(actual)}`];
}

describe('statistics: check values from outside', () => {
  test('there are rows to check', () => expect(rows.length).toBeGreaterThan(0));

  for (const row of rows) {
    test(`${row.id}: ${row.topic}`, () => {
      const adapter = adapters[row.topic];
      if (adapter === undefined) throw new Error(`no adapter for the topic "${row.topic}"`);
      const actual = adapter(row.given, otherRow);
      const wrong = Object.entries(row.expect)
        .filter(([key]) => !PROSE.has(key))
        .flatMap(([key, value]) => {
          const tolerance = row.tolerance ?? {};
          const allowed = typeof tolerance === 'number' ? tolerance : (tolerance[key] ?? 1e-9);
          return differences(value, actual[key], allowed, key);
        });
      expect(wrong, row.source).toEqual([]);
    });
  }
});

describe('statistics: the check can fail', () => {
  test('a topic nobody wrote an adapter for is told by its name', () => {
    expect(adapters['phases of the moon']).toBeUndefined();
  });

  test('a value out by more than its tolerance, a missing key and a longer list are each found', () => {
    expect(differences(0.1, 0.1011, 0.001, 'low')).toHaveLength(1);
    expect(differences(0.1, undefined, 0.001, 'low')).toHaveLength(1);
    expect(differences([1, 2], [1, 2, 3], 0, 'at')).toHaveLength(1);
    expect(differences({ near: 0.5 }, { near: 0.6 }, 0.01, 'f1')).toHaveLength(1);
    expect(differences(null, 0, 0, 'median')).toHaveLength(1);
    expect(differences(0.1, 0.1009, 0.001, 'low')).toEqual([]);
  });

  test('every topic with an adapter has a row in the sets that lie here', () => {
    const topics = new Set(ours.map((row) => row.topic));
    expect(Object.keys(adapters).filter((topic) => !topics.has(topic))).toEqual([]);
  });
});

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Found, type Given, MESSAGING_ADAPTERS } from './messaging.adapters.ts';

type Row = {
  readonly id: string;
  readonly topic: string;
  readonly given: Given;
  readonly expect: Found;
  readonly source: string;
};

/** Prose for the reader; an echo of the row. */
const NOT_COMPARED = new Set(['meaning', 'why', 'whatWeDo', 'at']);
const SETS = new Set(['channels', 'mustContain', 'dkimSignedFields']);
/** The set prints grades to a tenth or a hundredth. */
const PRINTED = 0.05;

const here = new URL('.', import.meta.url).pathname;
const rowsOf = (folder: string, file: string) =>
  JSON.parse(readFileSync(join(folder, file), 'utf8')) as readonly Row[];

const rows = [
  ...rowsOf(process.env.CHECKS_DIR ?? here, 'messaging.json'),
  // Shapes that the given set has no row of, and traps met on the way.
  ...rowsOf(here, 'messaging-own.json'),
];

describe.each([...new Set(rows.map((row) => row.topic))])('%s', (topic) => {
  it.for(rows.filter((row) => row.topic === topic).map((row) => [row.id, row] as const))(
    '%s',
    async ([, row], { annotate }) => {
      const adapter = MESSAGING_ADAPTERS[row.topic];
      if (!adapter) throw new Error(`no adapter for the topic ${row.topic}`);
      const found = (await adapter(row.given, row.expect)) as Found;
      if (typeof found.cannotRun === 'string') {
        // Not judged and said so: the runtime's zone data is older than the row. On a newer runtime it is compared.
        expect(String(process.versions.tz) < String(row.given.minimumTzdata)).toBe(true);
        console.warn(`reported, not compared: ${row.id}: ${found.cannotRun}`);
        await annotate(`not compared: ${found.cannotRun}`);
        return;
      }
      for (const [key, wanted] of Object.entries(row.expect)) {
        if (!NOT_COMPARED.has(key)) compare(row, key, wanted, found);
      }
    },
  );
});

function compare(row: Row, key: string, wanted: unknown, found: Found) {
  const said = `${row.id}: ${key} (${row.source})`;
  if (key.endsWith('OneOf')) {
    const plain = key.slice(0, -'OneOf'.length);
    expect(found, said).toHaveProperty([plain]);
    expect(wanted, `${said}, found ${String(found[plain])}`).toContain(found[plain]);
    return;
  }
  expect(found, `${said}: the adapter gives no such key`).toHaveProperty([key]);
  const got = found[key];
  if (SETS.has(key)) expect([...(got as string[])].sort(), said).toEqual([...(wanted as string[])].sort());
  else if (typeof wanted === 'number')
    expect(Math.abs((got as number) - wanted), `${said}: ${String(got)}`).toBeLessThanOrEqual(
      key === 'grade' || key === 'ease' ? PRINTED : 0,
    );
  else if (Array.isArray(wanted) && wanted.every((one) => typeof one === 'object')) {
    expect(got, said).toHaveLength(wanted.length);
    expect(got, said).toMatchObject(wanted);
  } else expect(got, said).toEqual(wanted);
}

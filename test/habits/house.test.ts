import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { jobs } from '../../jobs/index.ts';
import { migrations } from '../../migrations/index.ts';
import { SETTINGS } from '../../src/config.ts';

/* House rules that no compiler holds. */

const root = new URL('../..', import.meta.url).pathname;
const folders = ['src', 'jobs', 'templates', 'migrations', 'dashboard'];
const files = folders.flatMap((folder) =>
  (readdirSync(join(root, folder), { recursive: true }) as string[])
    .filter((name) => /\.(ts|tsx|mjs|js)$/.test(name))
    .map((name) => ({ name: `${folder}/${name}`, text: readFileSync(join(root, folder, name), 'utf8') })),
);
const withLine = (pattern: RegExp, allowed: readonly string[]): string[] =>
  files.filter((file) => !allowed.includes(file.name) && pattern.test(file.text)).map((file) => file.name);

test('only src/config.ts reads the environment', () => {
  expect(files.length).toBeGreaterThan(100);
  expect(withLine(/process\.env/, ['src/config.ts', 'src/afterfit.mjs'])).toEqual([]);
});

test('only src/clock.ts knows the time', () => {
  expect(withLine(/Date\.now\(\)|new Date\(\)|Temporal\.Now/, ['src/clock.ts'])).toEqual([]);
});

test('no marker of unfinished work is left', () => {
  expect(withLine(/\b(TODO|FIXME|XXX|HACK)\b/, [])).toEqual([]);
});

test('migrations are one number line: in order, no repeat', () => {
  const numbers = Object.keys(migrations).map((name) => Number(name.slice(0, 4)));
  expect(numbers.length).toBeGreaterThan(5);
  expect(numbers).toEqual([...new Set(numbers)].sort((one, other) => one - other));
});

describe('documents are kept true', () => {
  const readme = readFileSync(join(root, 'README.md'), 'utf8');
  const guide = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8');

  test.each(Object.entries(SETTINGS))(
    'setting %s stands in the README with its default and what it is for',
    (name, { byDefault, about }) => {
      const row = readme.split('\n').find((line) => line.includes(`\`${name}\``));
      expect(row).toContain(about);
      expect(row?.replaceAll('`', '')).toContain(byDefault);
    },
  );

  test('every room has its line in DEVELOPERS.md', () => {
    const rooms = readdirSync(join(root, 'src'), { withFileTypes: true }).filter((entry) =>
      entry.isDirectory(),
    );
    for (const room of rooms) expect(guide, room.name).toContain(`\`src/${room.name}/\``);
    for (const folder of ['dashboard', 'jobs', 'templates', 'migrations', 'test'])
      expect(guide).toContain(`\`${folder}/\``);
  });

  test('job names are plain and none is twice', () => {
    const names = jobs.map((job) => job.name);
    expect(new Set(names).size).toBe(names.length);
  });

  test('the README opens with the job in one paragraph and has the two commands', () => {
    expect(readme.split('\n\n')[1]?.length).toBeGreaterThan(300);
    expect(readme).toContain('npm ci && npm start');
    expect(readme).toContain('npm ci && npm test');
  });
});

import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { receiveText } from '../../src/channels/webhook.ts';
import { copyIsLate, keepBackup } from '../../src/followup/keepBackup.ts';
import type { DumpShelf } from '../../src/store/dumpShelf.ts';
import { noJournal } from '../../src/store/journal.ts';
import { tellOfMachine } from '../../src/tellOfMachine.ts';

/* What the machine does to us is told in a sentence, and nothing is acknowledged that is not kept. */

const failing = (code: string, message = 'x') => Object.assign(new Error(message), { code });

test.each([
  ['ENOSPC', /disk is full/],
  ['53100', /disk is full/],
  ['EROFS', /read-only/],
  ['25006', /read-only/],
  ['ECONNREFUSED', /does not answer/],
  ['57P03', /does not answer/],
  ['28P01', /does not let us in/],
])('%s is told in plain words with what to do', (code, words) => {
  const told = tellOfMachine(failing(code))!;
  expect(`${told.what} ${told.mend}`).toMatch(words);
});

test('a fault of our own is none of the machine’s and keeps its stack', () => {
  expect(tellOfMachine(new TypeError('x is undefined'))).toBeUndefined();
  expect(tellOfMachine(failing('23505'))).toBeUndefined();
});

test('a text that cannot be kept is answered 503, so that the carrier brings it again', async () => {
  const params = { MessageSid: 'SM1', From: '+12025550101', Body: 'x' };
  const answer = await receiveText(true, params, async () => {
    throw failing('ENOSPC');
  });
  expect(answer.status).toBe(503);
});

test('hourly copies: one each hour, and one that is three hours late is said on every page', async () => {
  let newest: Date | undefined;
  const puts: string[] = [];
  const copies: DumpShelf = {
    folder: '',
    newest: () => newest,
    async put(at) {
      newest = at;
      puts.push(at.toISOString().slice(11, 16));
      return '';
    },
    dropOlderThan() {},
  };
  let now = new Date('2026-03-02T10:00:00Z');
  const shell = { copies, clock: { now: () => now } } as never;
  for (const minute of [0, 1, 59, 60, 61, 119, 120]) {
    now = new Date(Date.UTC(2026, 2, 2, 10, minute));
    await keepBackup(shell);
  }
  expect(puts).toEqual(['10:00', '11:00', '12:00']);
  now = new Date('2026-03-02T14:59:00Z');
  expect(copyIsLate(shell)).toBeUndefined();
  now = new Date('2026-03-02T15:00:00Z');
  expect(copyIsLate(shell)).toMatch(/No hourly copy/);
});

test('a tick lives through a database that is away, and says so in the log', async () => {
  const { freshDatabase } = await import('../setup/databases.ts');
  const { openRoom } = await import('../../src/house.ts');
  const database = await freshDatabase('server');
  const errors: string[] = [];
  const log = { info() {}, warn() {}, error: (_detail: unknown, what: string) => void errors.push(what) };
  const shop = {
    shopId: 'own',
    name: 'Test shop',
    kind: 'own' as const,
    country: 'US',
    timeZone: 'America/New_York',
    settings: {},
    owner: { name: 'Owner' },
  };
  const room = (await openRoom({ database, journal: noJournal }, 'own', shop, log))!;
  await room.work();
  expect(errors).toEqual([]);
  expect(await room.health!()).toMatchObject({ database: true });
  await database.close();
  await room.work();
  expect(errors).toContain('a tick failed');
  expect(await room.health!()).toMatchObject({ database: false });
});

test('copies older than 48 hours go, the newest never does', async () => {
  const { openDumpShelf } = await import('../../src/store/dumpShelf.ts');
  const { freshDatabase } = await import('../setup/databases.ts');
  const { openWorld } = await import('../followup/world.ts');
  const database = await freshDatabase('embedded');
  await openWorld(database);
  const folder = mkdtempSync(join(tmpdir(), 'afterfit-shelf-'));
  try {
    const shelf = openDumpShelf(folder, database.db, 'own');
    await shelf.put(new Date('2026-03-01T09:00:00Z'));
    await shelf.put(new Date('2026-03-01T10:00:00Z'));
    const file = await shelf.put(new Date('2026-03-03T10:00:00Z'));
    expect(readFileSync(file).length).toBeGreaterThan(100);
    shelf.dropOlderThan(new Date('2026-03-01T10:00:00Z'));
    shelf.dropOlderThan(new Date('2026-03-09T10:00:00Z'));
    expect(shelf.newest()).toEqual(new Date('2026-03-03T10:00:00Z'));
    expect(shelf.folder).toBe(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
    await database.close();
  }
});

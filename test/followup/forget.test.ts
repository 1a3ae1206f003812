import { mkdtempSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { tick } from '../../jobs/index.ts';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { Database } from '../../src/store/database.ts';
import { openJournal } from '../../src/store/journal.ts';
import { keepLinks } from '../../src/store/links.ts';
import { putPictures } from '../../src/store/pictures.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

describe.each(DATABASES)('forgetting, database %s', (kind) => {
  let database: Database;
  let world: TestWorld;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  afterAll(() => database.close());
  beforeEach(async () => {
    world = await openWorld(database);
  });

  const at = (instant: string) => world.clock.moveTo(new Date(instant));
  const pictures = () =>
    database.db.selectFrom('picture').select(['state', 'bytes']).orderBy('number').execute();
  const withPicture = async (phone: string, body: string) => {
    const inboundId = (await world.says(phone, body))!;
    const kept = { state: 'kept', contentType: 'image/jpeg', bytes: new Uint8Array([1]) } as const;
    await putPictures(database.db, SHOP, inboundId, [kept], world.clock.now());
    return inboundId;
  };

  test('a picture stays while its case is open and 30 days after it was closed, and not a day longer', async () => {
    const { phone } = await world.job();
    at('2026-03-06T15:00:00Z');
    await withPicture(phone, 'the floor sways when I turn my head');
    const file = await database.db.selectFrom('case_file').select('case_id').executeTakeFirstOrThrow();
    at('2026-06-01T15:00:00Z');
    await tick(world.shell);
    expect((await pictures()).map((one) => one.state)).toEqual(['kept']);
    const act = {
      kind: 'close',
      outcome: 'settled',
      reason: null,
      borneBy: null,
      cause: null,
      causeHow: null,
    } as const;
    const closed = await actOnCase(world.shell, SHOP, file.case_id, act, 'Ana');
    expect(closed.ok).toBe(true);
    at('2026-06-30T15:00:00Z');
    await tick(world.shell);
    expect((await pictures()).map((one) => one.state)).toEqual(['kept']);
    at('2026-07-02T15:00:00Z');
    await tick(world.shell);
    expect(await pictures()).toEqual([{ state: 'removed', bytes: null }]);
  });

  test('a picture that waits in the tray is not removed before a person has looked', async () => {
    await withPicture('+12025550199', '');
    at('2026-12-01T15:00:00Z');
    await tick(world.shell);
    expect((await pictures()).map((one) => one.state)).toEqual(['kept']);
  });

  test('what came along with a message goes after the days that the shop set; its words stay', async () => {
    const { phone } = await world.job();
    const taken = await takeReply(world.shell, {
      shopId: SHOP,
      channel: 'text',
      farId: 'SM-raw',
      from: phone,
      to: null,
      body: 'all good',
      receivedAt: world.clock.now().toISOString(),
      raw: { wholeText: 'all good, and below it a whole letter' },
    });
    const raw = async () =>
      database.db
        .selectFrom('inbound')
        .select(['body', 'raw'])
        .where('inbound_id', '=', taken.inboundId!)
        .executeTakeFirstOrThrow();
    at('2027-03-01T15:00:00Z');
    await tick(world.shell);
    expect((await raw()).raw).toMatchObject({ wholeText: 'all good, and below it a whole letter' });
    at('2027-03-04T15:00:00Z');
    await tick(world.shell);
    expect(await raw()).toEqual({ body: 'all good', raw: { forgotten: true } });
    // The record is append-only for everyone else.
    await expect(database.db.updateTable('inbound').set({ body: 'x' }).execute()).rejects.toThrow(
      /never changed/,
    );
  });

  test('links that ran out more than 60 days ago go', async () => {
    const until = (day: string) => ({ purpose: 'answer', subject_id: 'm', expires_at: new Date(day) });
    await keepLinks(database.db, SHOP, [
      { token_hash: 'old', ...until('2026-01-01') },
      { token_hash: 'late', ...until('2026-02-20') },
    ]);
    await tick(world.shell);
    const left = await database.db.selectFrom('token').select('token_hash').execute();
    expect(left.map((row) => row.token_hash)).toEqual(['late']);
  });
});

test('days of the journal that are older than what is kept go, and the day that is written stays', () => {
  const folder = mkdtempSync(join(tmpdir(), 'afterfit-journal-'));
  const journal = openJournal(folder);
  const message = {
    shopId: 's',
    channel: 'text',
    farId: '1',
    from: '',
    to: null,
    body: '',
    raw: null,
  } as const;
  for (const day of ['2026-01-01', '2026-01-02', '2026-03-01']) {
    journal.append({ ...message, receivedAt: `${day}T10:00:00Z` });
  }
  journal.forgetBefore!('2026-01-02');
  expect(readdirSync(folder).sort()).toEqual(['inbound-2026-01-02.jsonl', 'inbound-2026-03-01.jsonl']);
  journal.forgetBefore!('2027-01-01');
  expect(readdirSync(folder)).toEqual(['inbound-2026-03-01.jsonl']);
  journal.close();
});

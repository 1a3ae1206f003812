import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { noteRingAttempt } from '../../src/followup/ringAttempt.ts';
import { ringCount, ringList } from '../../src/followup/ringList.ts';
import { ringBy } from '../../src/followup/ringPromise.ts';
import { takeRung } from '../../src/followup/ringSaid.ts';
import type { Database } from '../../src/store/database.ts';
import { findShop } from '../../src/store/shops.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

const NEW_YORK = 'America/New_York';
const usual = { time_zone: NEW_YORK, settings: {} };
const by = (since: string) => ringBy(usual, new Date(since)).toISOString();

describe('a call that was asked for is promised "in shop hours"', () => {
  test('asked on a Monday at ten: by five the same day', () => {
    expect(by('2026-03-02T15:00:00Z')).toBe('2026-03-02T22:00:00.000Z');
  });
  test('asked with an hour left: the same day; with less: the next', () => {
    expect(by('2026-03-02T21:00:00Z')).toBe('2026-03-02T22:00:00.000Z');
    expect(by('2026-03-02T21:00:01Z')).toBe('2026-03-03T22:00:00.000Z');
  });
  test('asked on a Saturday evening: by five on Monday, past the hour that spring takes away', () => {
    // Clocks in New York go forward on Sunday 8 March 2026 (IANA time zone database): five in the afternoon is then 21:00 UTC.
    expect(by('2026-03-07T23:00:00Z')).toBe('2026-03-09T21:00:00.000Z');
  });
});

describe.each(DATABASES)('who is to be rung (%s)', (kind) => {
  let database: Database;
  let world: TestWorld;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  beforeEach(async () => {
    world = await openWorld(database);
  });
  afterAll(() => database.close());

  const list = async () => ringList(database.db, await findShop(database.db, SHOP), world.clock.now());
  const tries = (wearerId: string, what: string, againAt = '') =>
    noteRingAttempt(world.shell, SHOP, wearerId, { what, againAt, note: '' }, 'Tom');

  const foretelling = (addD: number, cylinderD: number) =>
    [
      { key: 'order', eye: 'R', value: [0.5, cylinderD, 45], unit: 'D' },
      { key: 'order', eye: 'L', value: [0.5, 0, 180], unit: 'D' },
      { key: 'order_add_D', eye: 'R', value: addD, unit: 'D' },
      { key: 'order_add_D', eye: 'L', value: addD, unit: 'D' },
    ].map((fact) => ({ ...fact, how: '', by: null, source: 'order', from: 'test' })) as never;

  test('a job that foretells trouble twice over has its wearer rung on day 2, with the numbers; one that does once has not', async () => {
    const likely = await world.job({ facts: foretelling(2.25, -1) });
    await world.job({ facts: foretelling(2.25, -0.5) });
    await world.playTo('2026-03-04T14:59:00Z');
    expect(await list()).toEqual([]);
    await world.playTo('2026-03-04T15:00:00Z');
    expect((await list()).map(({ wearerId, reasons }) => ({ wearerId, reasons }))).toEqual([
      {
        wearerId: likely.wearerId,
        reasons: [
          {
            kind: 'foretold',
            since: new Date('2026-03-04T15:00:00Z'),
            detail: 'high first add 2.25 D (told from 2.00), oblique cylinder 1.00 D (told from 0.75)',
          },
        ],
      },
    ]);
    expect(await ringCount(database.db, await findShop(database.db, SHOP), world.clock.now())).toBe(1);
  });

  test('who has written since is not rung for what their job foretold, and after five days nobody is', async () => {
    const { phone } = await world.job({ facts: foretelling(2.25, -1) });
    await world.job({ facts: foretelling(2.5, -1.25) });
    await world.playTo('2026-03-05T15:10:00Z');
    expect(await list()).toHaveLength(2);
    await world.says(phone, '1');
    expect(await list()).toHaveLength(1);
    await world.playTo('2026-03-09T15:01:00Z');
    expect(await list()).toEqual([]);
  });

  test('who likes the phone is rung on day 3, and not again after we spoke', async () => {
    const { wearerId } = await world.job({ prefers: 'phone' });
    await world.playTo('2026-03-04T15:00:00Z');
    expect((await list()).map((one) => one.reasons.map((why) => why.detail))).toEqual([['0']]);
    await world.playTo('2026-03-05T16:00:00Z');
    expect((await list())[0]!.reasons).toMatchObject([{ kind: 'check-in', detail: '3' }]);
    const said = await takeRung(
      world.shell,
      SHOP,
      wearerId,
      { answer: '2', text: 'the floor still sways when I turn my head', onceKey: 'k1' },
      'Tom',
    );
    expect(said.ok).toBe(true);
    expect(await list()).toEqual([]);
    await world.playTo('2026-03-09T16:00:00Z');
    expect((await list())[0]!.reasons).toMatchObject([{ kind: 'check-in', detail: '7' }]);
  });

  test('what was said on the telephone is sorted like a text: trouble opens a case', async () => {
    const { wearerId } = await world.job({ prefers: 'phone' });
    await takeRung(
      world.shell,
      SHOP,
      wearerId,
      { answer: '3', text: 'reading is far too low down', onceKey: 'k' },
      'Tom',
    );
    const row = await database.db
      .selectFrom('inbound as i')
      .innerJoin('case_file as f', 'f.newest_inbound_id', 'i.inbound_id')
      .select(['i.channel', 'i.body', 'i.raw', 'f.labels'])
      .executeTakeFirstOrThrow();
    expect(row.channel).toBe('phone');
    expect(row.body).toBe('Something is not right. reading is far too low down');
    expect(row.raw).toMatchObject({ wearerId, typedBy: 'Tom', tapped: '3' });
    expect(row.labels).toContain('near-too-low');
  });

  test('the same press twice is one call', async () => {
    const { wearerId } = await world.job();
    const said = { answer: '1', text: '', onceKey: 'once' };
    await takeRung(world.shell, SHOP, wearerId, said, 'Tom');
    await takeRung(world.shell, SHOP, wearerId, said, 'Tom');
    expect(await database.db.selectFrom('ring_attempt').select('what').execute()).toEqual([
      { what: 'spoke' },
    ]);
  });

  test('"something is not right" without what it is, is refused and nothing is kept', async () => {
    const { wearerId } = await world.job();
    const done = await takeRung(world.shell, SHOP, wearerId, { answer: '3', text: ' ', onceKey: 'k' }, 'Tom');
    expect(done).toMatchObject({ ok: false, problems: [{ where: 'text' }] });
    expect(await database.db.selectFrom('inbound').select('inbound_id').execute()).toEqual([]);
  });

  test('a danger sign told on the telephone stands first, before what was promised', async () => {
    const calm = await world.job({ name: 'Calm Wearer' });
    await world.says(calm.phone, '5');
    await world.says(calm.phone, 'please ring me');
    const { wearerId } = await world.job({ prefers: 'phone', name: 'Second Wearer' });
    await takeRung(
      world.shell,
      SHOP,
      wearerId,
      {
        answer: '',
        text: 'since this morning lots of new black specks and flashes in my left eye',
        onceKey: 'k',
      },
      'Tom',
    );
    const names = (await list()).map((one) => one.wearer);
    expect(names).toEqual(['Calm Wearer']);
    // We spoke with her just now; what she texts after that counts again.
    world.clock.moveTo(new Date('2026-03-02T15:10:00Z'));
    const danger = await world.job({ name: 'Third Wearer' });
    await world.says(danger.phone, 'flashes and a curtain over my right eye since an hour');
    expect((await list()).map((one) => [one.wearer, one.reasons[0]!.kind])).toEqual([
      ['Third Wearer', 'danger'],
      ['Calm Wearer', 'asked'],
    ]);
  });

  test('who asks for a call is promised one by closing time, and it is overdue a minute later', async () => {
    const { phone } = await world.job();
    await world.says(phone, 'please call me');
    const [entry] = await list();
    expect(entry).toMatchObject({ overdue: false, reasons: [{ kind: 'asked' }] });
    expect(entry!.promisedBy?.toISOString()).toBe('2026-03-02T22:00:00.000Z');
    world.clock.moveTo(new Date('2026-03-02T22:01:00Z'));
    expect((await list())[0]!.overdue).toBe(true);
  });

  test('two tries without speaking are tries; after the third it is better to write', async () => {
    const { wearerId, phone } = await world.job();
    await world.says(phone, 'please call me');
    await tries(wearerId, 'no answer');
    world.clock.moveTo(new Date('2026-03-02T16:00:00Z'));
    await tries(wearerId, 'left message');
    expect((await list())[0]).toMatchObject({ writeInstead: null });
    world.clock.moveTo(new Date('2026-03-02T17:00:00Z'));
    await tries(wearerId, 'no answer');
    const [entry] = await list();
    expect(entry!.writeInstead).toBe('three tries');
    expect(entry!.attempts.map((one) => one.what)).toEqual(['no answer', 'left message', 'no answer']);
  });

  test('"again at" moves the promise to that time by the shop’s clock', async () => {
    const { wearerId, phone } = await world.job();
    await world.says(phone, 'please call me');
    expect((await tries(wearerId, 'again at', '2026-03-04T15:00')).ok).toBe(true);
    expect((await list())[0]!.promisedBy?.toISOString()).toBe('2026-03-04T20:00:00.000Z');
  });

  test('"again at" a time that has passed, or at six in the morning of theirs, is refused', async () => {
    const { wearerId } = await world.job({ zone: 'America/Los_Angeles' });
    expect(await tries(wearerId, 'again at', '2026-03-02T09:59')).toMatchObject({ ok: false });
    expect(await tries(wearerId, 'again at', '2026-03-03T09:00')).toMatchObject({ ok: false });
    expect(await tries(wearerId, 'again at', '2026-02-30T12:00')).toMatchObject({ ok: false });
    expect(await tries(wearerId, 'again at', '2026-03-03T11:00')).toMatchObject({ ok: true });
  });

  test('a wrong number is not used again, and it is better to write', async () => {
    const { wearerId, phone } = await world.job();
    await world.says(phone, 'please call me');
    await tries(wearerId, 'wrong number');
    expect((await list())[0]).toMatchObject({ phone: null, writeInstead: 'wrong number' });
    const row = await database.db
      .selectFrom('contact_point')
      .select('unusable_why')
      .executeTakeFirstOrThrow();
    expect(row.unusable_why).toBe('wrong number');
  });

  test('posted nine days ago and no word: not yet; ten days: ring; answered meanwhile: not', async () => {
    const silent = await world.job({ way: 'post', handedOverOn: '2026-03-02' });
    const other = await world.job({ way: 'post', handedOverOn: '2026-03-02' });
    await world.playTo('2026-03-11T20:00:00Z');
    await world.says(other.phone, 'they came today, lovely');
    expect((await list()).filter((one) => one.reasons.some((why) => why.kind === 'no word'))).toEqual([]);
    await world.playTo('2026-03-12T20:00:00Z');
    const found = (await list()).filter((one) => one.reasons.some((why) => why.kind === 'no word'));
    expect(found.map((one) => one.wearerId)).toEqual([silent.wearerId]);
  });

  test('a message that was refused and not followed by one that went is a reason to ring', async () => {
    const { wearerId } = await world.job();
    const now = world.clock.now();
    await world.playTo('2026-03-02T15:05:00Z');
    await database.db
      .updateTable('attempt')
      .set({ state: 'failed', why: 'the line is dead', settled_at: now })
      .execute();
    expect((await list()).map((one) => [one.wearerId, one.reasons[0]])).toMatchObject([
      [wearerId, { kind: 'unreached', detail: 'the line is dead' }],
    ]);
    await world.playTo('2026-03-05T20:00:00Z');
    expect(await list()).toEqual([]);
  });
});

import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import type { Database } from '../../src/store/database.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

/* The rules of the plan, each by name, on the embedded database and on a server. */

describe.each(DATABASES)('plan and check-ins, %s database', (kind) => {
  let database: Database;
  let world: TestWorld;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  beforeEach(async () => {
    world = await openWorld(database);
  });
  afterAll(() => database.close());

  const purposes = async (phone: string) => (await world.sent(phone)).map((one) => one.purpose);
  const checkIns = async (pairId: string) =>
    database.db
      .selectFrom('check_in')
      .select(['slot', 'state', 'why', 'due_at'])
      .where('pair_id', '=', pairId)
      .orderBy('due_on')
      .orderBy('slot')
      .execute();
  const openCase = async () =>
    database.db.selectFrom('case_file').selectAll().where('closed_at', 'is', null).executeTakeFirst();

  test('tips go at hand-over, and questions on days 3, 7, 14 and 30 of wear at ten in the morning there', async () => {
    const { phone } = await world.job({ zone: 'America/Los_Angeles' });
    await world.playTo('2026-04-05T23:00:00Z');
    const sent = await world.sent(phone);
    expect(sent.map((one) => one.at.toISOString())).toEqual([
      '2026-03-02T17:00:00.000Z', // 9:00 in Los Angeles: hand-over was entered at 7:00 there
      '2026-03-05T18:00:00.000Z',
      '2026-03-09T17:00:00.000Z', // summer time began on the 8th
      '2026-03-16T17:00:00.000Z',
      '2026-04-01T17:00:00.000Z',
    ]);
  });

  test('a zone known only as a set: nothing goes until it is civil in all of it', async () => {
    const { phone } = await world.job({ region: 'TN' });
    await world.playTo('2026-03-05T23:00:00Z');
    const [, day3] = await world.sent(phone);
    // Ten o'clock in both Eastern and Central Tennessee.
    expect(day3!.at.toISOString()).toBe('2026-03-05T16:00:00.000Z');
  });

  test('one unasked message a wearer a day over all pairs', async () => {
    const { phone } = await world.job({ number: 'A', name: 'Two Pairs', phone: '+12025550177' });
    await world.job({ number: 'B', name: 'Two Pairs', phone: '+12025550177' });
    await world.playTo('2026-03-12T23:00:00Z');
    const days = (await world.sent(phone)).map((one) => one.at.toISOString().slice(0, 10));
    expect(new Set(days).size).toBe(days.length);
    expect(days.length).toBeGreaterThanOrEqual(5);
  });

  test('at most eight unasked messages in 30 days over all pairs', async () => {
    for (const number of ['A', 'B', 'C', 'D', 'E']) {
      await world.job({ number, name: 'Many Pairs', phone: '+12025550178' });
    }
    await world.playTo('2026-03-31T23:00:00Z');
    expect((await world.sent('+12025550178')).length).toBe(8);
  });

  test('of check-ins overdue by more than 24 hours only the newest goes; older ones are passed over', async () => {
    const { phone, pairId } = await world.job();
    await world.playTo('2026-03-03T12:00:00Z');
    // The machine was off from day 1 to day 10: days 3 and 7 fell due meanwhile.
    world.clock.moveTo(new Date('2026-03-12T15:00:00Z'));
    await world.playTo('2026-03-12T15:00:00Z');
    expect(await purposes(phone)).toEqual(['check-in', 'check-in']);
    const states = Object.fromEntries((await checkIns(pairId)).map((one) => [one.slot, one.state]));
    expect(states).toMatchObject({ 'day 3': 'passed over', 'day 7': 'claimed', 'day 14': 'planned' });
  });

  test('after an inbound it waits two minutes for more, and answers once for all of it', async () => {
    const { phone } = await world.job();
    await world.playTo('2026-03-05T15:30:00Z');
    await world.says(phone, 'all good thanks');
    world.clock.moveTo(new Date('2026-03-05T15:31:30Z'));
    await world.says(phone, 'used to them now');
    await world.playTo('2026-03-05T15:33:00Z');
    expect(await purposes(phone)).toEqual(['check-in', 'check-in']);
    await world.playTo('2026-03-05T15:40:00Z');
    expect(await purposes(phone)).toEqual(['check-in', 'check-in', 'answer']);
  });

  test('stop, help and danger are answered at once', async () => {
    const stops = await world.job();
    const asks = await world.job();
    const danger = await world.job();
    await world.playTo('2026-03-05T15:30:00Z');
    await world.says(stops.phone, 'STOP');
    await world.says(asks.phone, 'who is this?');
    await world.says(danger.phone, 'since this morning lots of new floaters and flashes in my left eye');
    await world.playTo(world.clock.now());
    expect((await purposes(stops.phone)).at(-1)).toBe('stop confirmed');
    expect((await purposes(asks.phone)).at(-1)).toBe('help');
    expect((await purposes(danger.phone)).at(-1)).toBe('caution');
  });

  test('who said stop gets one confirmation and no other, until they start again', async () => {
    const { phone } = await world.job();
    await world.playTo('2026-03-05T15:30:00Z');
    await world.says(phone, 'STOP');
    await world.playTo('2026-03-06T15:30:00Z');
    await world.says(phone, 'stop');
    await world.playTo('2026-03-10T15:30:00Z');
    expect((await purposes(phone)).filter((one) => one === 'stop confirmed')).toHaveLength(1);
    expect((await purposes(phone)).at(-1)).toBe('stop confirmed');
    await world.says(phone, 'START');
    await world.playTo('2026-03-17T15:30:00Z');
    expect((await purposes(phone)).at(-1)).toBe('check-in');
  });

  test('at most three automatic answers a day; what is left over stays for a person', async () => {
    const { phone } = await world.job();
    await world.playTo('2026-03-05T15:30:00Z');
    for (let n = 0; n < 5; n += 1) {
      await world.says(phone, 'bit better every day');
      await world.playTo(new Date(world.clock.now().getTime() + 10 * 60_000));
    }
    expect((await purposes(phone)).filter((one) => one === 'answer')).toHaveLength(3);
    const left = await database.db
      .selectFrom('inbound_standing')
      .select('inbound_id')
      .where('answer_state', '=', 'left')
      .execute();
    expect(left).toHaveLength(2);
  });

  test('settled twice running: only day 30 stays', async () => {
    const { phone, pairId } = await world.job();
    await world.playTo('2026-03-05T15:30:00Z');
    await world.says(phone, 'used to them now, very happy');
    await world.playTo('2026-03-09T15:30:00Z');
    await world.says(phone, 'all good');
    const states = Object.fromEntries((await checkIns(pairId)).map((one) => [one.slot, one.state]));
    expect(states).toMatchObject({ 'day 14': 'dropped', 'day 30': 'planned' });
  });

  test('a case that a person holds pauses automatic messages, and letting it go starts them again', async () => {
    const { phone } = await world.job();
    await world.playTo('2026-03-05T15:30:00Z');
    await world.says(phone, 'the floor sways when I turn my head');
    const file = (await openCase())!;
    await actOnCase(world.shell, SHOP, file.case_id, { kind: 'hold' }, 'Owner');
    await world.playTo('2026-03-10T15:30:00Z');
    expect(await purposes(phone)).toEqual(['check-in', 'check-in']);
    await actOnCase(world.shell, SHOP, file.case_id, { kind: 'release' }, 'Owner');
    await world.playTo('2026-03-11T15:30:00Z');
    expect((await purposes(phone)).at(-1)).toBe('check-in');
  });

  test('wants the money back: the plan pauses and a case is opened', async () => {
    const { phone, pairId } = await world.job();
    await world.playTo('2026-03-05T15:30:00Z');
    await world.says(phone, 'I want my money back simple as that');
    const plan = await database.db
      .selectFrom('plan')
      .selectAll()
      .where('pair_id', '=', pairId)
      .executeTakeFirstOrThrow();
    expect(plan).toMatchObject({ state: 'paused', why: 'wants the money back' });
    expect((await openCase())?.labels).toContain('wants-money-back');
  });

  test('a refund, a return and a wrong number end the plan', async () => {
    const refunded = await world.job();
    const wrong = await world.job();
    await world.playTo('2026-03-05T15:30:00Z');
    await world.says(refunded.phone, 'I want my money back');
    const close = {
      kind: 'close',
      outcome: 'refunded',
      reason: null,
      borneBy: null,
      cause: null,
      causeHow: null,
    } as const;
    await actOnCase(world.shell, SHOP, (await openCase())!.case_id, close, 'Owner');
    await world.says(wrong.phone, 'wrong number mate');
    await world.playTo('2026-04-10T15:30:00Z');
    for (const one of [refunded, wrong]) {
      const plan = await database.db
        .selectFrom('plan')
        .select('state')
        .where('pair_id', '=', one.pairId)
        .executeTakeFirstOrThrow();
      expect(plan.state).toBe('ended');
      expect((await purposes(one.phone)).filter((purpose) => purpose === 'check-in')).toHaveLength(2);
    }
  });

  test('not arrived moves day 0 and opens no case; the word that they came starts the days anew', async () => {
    const { phone, pairId } = await world.job();
    await world.playTo('2026-03-05T15:30:00Z');
    await world.says(phone, 'nothing in the post yet');
    expect(await openCase()).toBeUndefined();
    await world.playTo('2026-03-08T20:00:00Z');
    await world.says(phone, 'they came today, lovely');
    const pair = await database.db
      .selectFrom('pair')
      .select(['first_worn_on', 'first_worn_how'])
      .where('pair_id', '=', pairId)
      .executeTakeFirstOrThrow();
    expect(pair).toEqual({ first_worn_on: '2026-03-08', first_worn_how: 'said by the wearer' });
    const slots = (await checkIns(pairId)).filter((one) => one.state === 'planned').map((one) => one.slot);
    expect(slots).toEqual(['day 3, round 2', 'day 7, round 2', 'day 14, round 2', 'day 30, round 2']);
  });

  test('no consent or no contact: taken in, and never messaged', async () => {
    const { phone } = await world.job({ consent: false });
    await world.playTo('2026-04-10T15:30:00Z');
    expect(await world.sent(phone)).toEqual([]);
  });

  test('who prefers the phone is rung: the check-in becomes a call to make', async () => {
    const { phone, pairId } = await world.job({ prefers: 'phone' });
    await world.playTo('2026-03-05T15:30:00Z');
    expect(await world.sent(phone)).toEqual([]);
    expect((await checkIns(pairId)).filter((one) => one.state === 'to ring').length).toBeGreaterThan(0);
  });

  test('taken in late: what was due before is passed over, and a pair past day 30 is asked nothing', async () => {
    const late = await world.job({ handedOverOn: '2026-02-20' });
    const old = await world.job({ handedOverOn: '2026-01-20' });
    expect((await checkIns(late.pairId)).map((one) => [one.slot, one.state])).toEqual([
      ['day 3', 'passed over'],
      ['day 7', 'passed over'],
      ['day 14', 'planned'],
      ['day 30', 'planned'],
    ]);
    expect(await checkIns(old.pairId)).toEqual([]);
  });
});

import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { actOnCase, type CaseAct } from '../../src/followup/actOnCase.ts';
import { jobFactsOf } from '../../src/followup/jobFactsOf.ts';
import type { Database } from '../../src/store/database.ts';
import { suggestionsTaken } from '../../src/store/weights.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

describe.each(DATABASES)('an act on a case taken back by a second event (%s)', (kind) => {
  let database: Database;
  let world: TestWorld;
  let caseId: string;
  let pairId: string;
  let phone: string;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  beforeEach(async () => {
    world = await openWorld(database);
    ({ pairId, phone } = await world.job());
    await world.says(phone, 'I have to lift my chin to read');
    caseId = (await theCase()).case_id;
  });
  afterAll(() => database.close());

  const theCase = () => database.db.selectFrom('case_file').selectAll().executeTakeFirstOrThrow();
  const later = () => world.clock.moveTo(new Date(world.clock.now().getTime() + 60_000));
  const act = async (what: CaseAct) => {
    later();
    return actOnCase(world.shell, SHOP, caseId, what, 'Tom');
  };
  const newest = async (of: string) =>
    (
      await database.db
        .selectFrom('case_event')
        .select('event_id')
        .where('kind', '=', of)
        .orderBy('at', 'desc')
        .executeTakeFirstOrThrow()
    ).event_id;
  const back = async (of: string) => act({ kind: 'take back', eventId: await newest(of) });
  const bench = (key: string, value: unknown): CaseAct => ({
    kind: 'fact',
    fact: { key, eye: null, value, unit: null, how: 'pen', by: 'Tom', source: 'bench' },
  });
  const facts = () => jobFactsOf(database.db, SHOP, pairId, '2026-03-02');

  test('holding, with the day to look again', async () => {
    await act({ kind: 'hold', againOn: '2026-03-05' });
    expect(await theCase()).toMatchObject({ state: 'held', held_by: 'Tom', again_on: '2026-03-05' });
    expect((await back('held')).ok).toBe(true);
    expect(await theCase()).toMatchObject({ state: 'new', held_by: null, again_on: null });
    const kinds = await database.db.selectFrom('case_event').select('kind').orderBy('at').execute();
    expect(kinds.map((one) => one.kind).slice(-2)).toEqual(['held', 'taken back']);
  });

  test('a chosen act: the state is as before, and it counts no more among what was chosen', async () => {
    await act({ kind: 'act', act: 'coach', way: 'by phone', note: '', state: 'coming in' });
    expect((await suggestionsTaken(database.db, SHOP)).length).toBe(1);
    await back('act');
    expect((await theCase()).state).toBe('new');
    expect(await suggestionsTaken(database.db, SHOP)).toEqual([]);
  });

  test('a closing: the case is open, its outcome gone, the plan runs and asks on the days still to come', async () => {
    await act({
      kind: 'close',
      outcome: 'refunded',
      reason: null,
      borneBy: null,
      cause: 'changed-mind',
      causeHow: 'found at the bench',
    });
    const asking = () =>
      database.db
        .selectFrom('check_in')
        .select('slot')
        .where('state', '=', 'planned')
        .orderBy('day')
        .execute();
    expect(await asking()).toEqual([]);
    expect((await back('closed')).ok).toBe(true);
    expect(await theCase()).toMatchObject({ closed_at: null, outcome: null, state: 'new' });
    expect(await database.db.selectFrom('outcome').selectAll().execute()).toEqual([]);
    expect((await asking()).map((one) => one.slot)).toEqual(['day 3', 'day 7', 'day 14', 'day 30']);
    const plan = await database.db.selectFrom('plan').select('state').executeTakeFirstOrThrow();
    expect(plan.state).toBe('running');
  });

  test('a number: the one before it stands again, or none, and the causes are weighed again', async () => {
    await act(bench('vertex_mm', 13));
    await act(bench('vertex_mm', 18));
    expect((await back('fact')).ok).toBe(true);
    expect(await facts()).toMatchObject({ vertex_mm: 13 });
    await act(bench('slips', true));
    const share = async () => Number((await theCase()).leading_share);
    const with_ = await share();
    await back('fact');
    expect(await facts()).not.toHaveProperty('slips');
    expect(await share()).not.toBe(with_);
    const rows = await database.db.selectFrom('fact').select('key').where('key', '=', 'slips').execute();
    expect(rows).toHaveLength(2);
  });

  test('an answer heard by mistake', async () => {
    await act({ kind: 'answered', questionId: 'push-up', answer: 'a' });
    expect(await facts()).toMatchObject({ push_up_helps: true });
    await back('answered');
    expect(await facts()).not.toHaveProperty('push_up_helps');
  });

  test('not a second time, and not under what came later', async () => {
    await act({ kind: 'hold' });
    const held = await newest('held');
    await act({ kind: 'release' });
    const under = await act({ kind: 'take back', eventId: held });
    expect(under.ok ? '' : under.problems[0]!.code).toBe('overtaken');
    await back('released');
    expect((await act({ kind: 'take back', eventId: held })).ok).toBe(true);
    const twice = await act({ kind: 'take back', eventId: held });
    expect(twice.ok ? '' : twice.problems[0]!.code).toBe('taken-back');
  });

  test('a letter that was sent cannot be: it is put right by a second one', async () => {
    await act({ kind: 'write', text: 'Come at three on Monday.', channel: 'text', onceKey: 'w1' });
    const refused = await back('wrote');
    expect(refused.ok ? '' : refused.problems[0]!.what).toContain('cannot be taken back');
    const { message_id: messageId } = await database.db
      .selectFrom('message')
      .select('message_id')
      .where('purpose', '=', 'staff')
      .executeTakeFirstOrThrow();
    const done = await act({ kind: 'correct', messageId, text: 'It is four, not three.', onceKey: 'c1' });
    expect(done.ok).toBe(true);
    await world.playTo(new Date(world.clock.now().getTime() + 120_000));
    const sent = await world.sent(phone);
    expect(sent.find(({ purpose }) => purpose === 'correction')?.body).toContain('It is four, not three.');
    expect(sent.filter(({ purpose }) => purpose === 'staff')).toHaveLength(1);
  });

  test('"I have it" cannot be: the alarm has ended for everybody', async () => {
    await act({ kind: 'have it' });
    const refused = await back('I have it');
    expect(refused.ok ? '' : refused.problems[0]!.mend).toContain('Let the case go');
  });

  test('while a person holds the case nothing is posted by itself: no check-in, no question, no answer', async () => {
    await act({ kind: 'hold' });
    const before = (await world.sent(phone)).length;
    await world.says(phone, 'still hazy at the bottom of the page');
    await world.playTo('2026-03-12T20:00:00Z');
    expect((await world.sent(phone)).length).toBe(before);
    await act({ kind: 'release' });
    await world.playTo('2026-03-18T20:00:00Z');
    expect((await world.sent(phone)).length).toBeGreaterThan(before);
  });
});

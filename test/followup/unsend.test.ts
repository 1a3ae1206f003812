import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { tick } from '../../jobs/index.ts';
import { actOnCase, type CaseAct } from '../../src/followup/actOnCase.ts';
import type { Database } from '../../src/store/database.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

describe.each(DATABASES)('what staff send can be taken back for ten seconds (%s)', (kind) => {
  let database: Database;
  let world: TestWorld;
  let phone: string;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  afterAll(() => database.close());
  beforeEach(async () => {
    world = await openWorld(database);
    ({ phone } = await world.job());
    await world.says(phone, 'I have to lift my chin to read');
  });

  const theCase = () => database.db.selectFrom('case_file').selectAll().executeTakeFirstOrThrow();
  const act = async (what: CaseAct) => actOnCase(world.shell, SHOP, (await theCase()).case_id, what, 'Tom');
  const seconds = async (count: number) => {
    world.clock.moveTo(new Date(world.clock.now().getTime() + count * 1000));
    await tick(world.shell);
  };
  const written = async () =>
    (
      await database.db
        .selectFrom('message')
        .select('message_id')
        .where('written_by', '=', 'Tom')
        .orderBy('message_id', 'desc')
        .executeTakeFirstOrThrow()
    ).message_id;
  const sentBy = async (purpose: string) =>
    (await world.sent(phone)).filter((one) => one.purpose === purpose).length;
  const write = { kind: 'write', text: 'Come on Monday.', channel: 'text', onceKey: 'w' } as const;

  test('nothing leaves in the first ten seconds; at ten it does', async () => {
    await act(write);
    await seconds(9);
    expect(await sentBy('staff')).toBe(0);
    await seconds(1);
    expect(await sentBy('staff')).toBe(1);
  });

  test('taken back at nine seconds it never leaves, and both stand in the history', async () => {
    await act(write);
    await seconds(9);
    expect((await act({ kind: 'unsend', messageId: await written() })).ok).toBe(true);
    await seconds(3600);
    expect(await sentBy('staff')).toBe(0);
    const attempt = await database.db
      .selectFrom('attempt as a')
      .innerJoin('message as m', 'm.message_id', 'a.message_id')
      .select(['a.state', 'a.why'])
      .where('m.written_by', '=', 'Tom')
      .execute();
    expect(attempt).toEqual([{ state: 'withheld', why: 'taken back by Tom' }]);
    const events = await database.db.selectFrom('case_event').select('kind').orderBy('at').execute();
    expect(events.map((one) => one.kind)).toEqual(expect.arrayContaining(['wrote', 'unsent']));
  });

  test('at ten seconds it is too late, whether or not it was handed over yet: a correction is offered', async () => {
    await act(write);
    world.clock.moveTo(new Date(world.clock.now().getTime() + 10_000));
    const late = await act({ kind: 'unsend', messageId: await written() });
    expect(late.ok ? '' : late.problems[0]!.code).toBe('has-left');
    await tick(world.shell);
    expect(await sentBy('staff')).toBe(1);
  });

  test('a question that is taken back counts as not asked, and can be asked again', async () => {
    const question = {
      id: 'push-up-helps',
      text: 'Does it get better when you push the glasses up?',
      answers: [
        { key: 'yes', words: 'yes' },
        { key: 'no', words: 'no' },
      ],
    };
    await database.db
      .updateTable('case_file')
      .set({ question: JSON.stringify(question) })
      .execute();
    const before = await theCase();
    await act({ kind: 'ask', channel: 'text', onceKey: 'q' });
    expect((await theCase()).state).toBe('asked the wearer');
    expect((await act({ kind: 'unsend', messageId: await written() })).ok).toBe(true);
    expect((await theCase()).state).toBe(before.state);
    const again = await act({ kind: 'ask', channel: 'text', onceKey: 'q2' });
    expect(again.ok).toBe(true);
    await seconds(11);
    expect(await sentBy('question')).toBe(1);
  });

  test('an automatic message is nobody’s to take back', async () => {
    const automatic = await database.db
      .selectFrom('message')
      .select('message_id')
      .where('automatic', '=', true)
      .executeTakeFirst();
    const done = await act({ kind: 'unsend', messageId: automatic?.message_id ?? 'none' });
    expect(done.ok ? '' : done.problems[0]!.what).toBe('There is no such message on this case.');
  });
});

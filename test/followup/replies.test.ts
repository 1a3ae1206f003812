import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { tokenHash } from '../../src/channels/tokens.ts';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import { correctLabels, doneWithTray, linkFromTray } from '../../src/followup/settleTray.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import type { Database } from '../../src/store/database.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

describe.each(DATABASES)('replies in, %s database', (kind) => {
  let database: Database;
  let world: TestWorld;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  beforeEach(async () => {
    world = await openWorld(database);
  });
  afterAll(() => database.close());

  const standing = async (inboundId: string | null) =>
    database.db
      .selectFrom('inbound_standing')
      .selectAll()
      .where('inbound_id', '=', inboundId ?? '')
      .executeTakeFirstOrThrow();
  const openCase = async () =>
    database.db.selectFrom('case_file').selectAll().where('closed_at', 'is', null).executeTakeFirstOrThrow();
  const DAY_3 = '2026-03-05T15:30:00Z';

  test('the one wearer of a number with a pair under 60 days is meant; after 60 days it goes to the tray', async () => {
    const { phone, wearerId } = await world.job();
    expect(await standing(await world.says(phone, 'all good'))).toMatchObject({
      wearer_id: wearerId,
      state: 'sorted',
    });
    world.clock.moveTo(new Date('2026-05-02T15:30:00Z'));
    expect(await standing(await world.says(phone, 'all good'))).toMatchObject({
      wearer_id: null,
      tray_why: 'no pair under 60 days',
    });
  });

  test('a couple on one telephone: the one who was asked is meant; when both were, a person decides', async () => {
    const his = await world.job({ name: 'Milo Hart', phone: '+12025550155', handedOverOn: '2026-03-02' });
    await world.job({ name: 'Nell Hart', phone: '+12025550155', handedOverOn: '2026-02-20' });
    await world.playTo('2026-03-05T15:30:00Z');
    // Only Milo has been asked so far; Nell's day 14 comes on the 6th.
    expect(await standing(await world.says('+12025550155', 'all good'))).toMatchObject({
      wearer_id: his.wearerId,
      linked_how: 'the one open question',
    });
    await world.playTo('2026-03-09T15:30:00Z');
    const both = await standing(await world.says('+12025550155', 'the floor sways'));
    expect(both).toMatchObject({ wearer_id: null, state: 'tray', tray_why: 'two wearers possible' });
    expect((await linkFromTray(world.shell, SHOP, both.inbound_id, his.wearerId)).ok).toBe(true);
    expect(await standing(both.inbound_id)).toMatchObject({ wearer_id: his.wearerId, state: 'sorted' });
    expect((await openCase()).labels).toContain('swim');
  });

  test('by reply token and by thread, whatever the address says', async () => {
    const { phone, wearerId } = await world.job();
    await world.playTo(DAY_3);
    const attempt = await database.db
      .selectFrom('attempt')
      .select('far_id')
      .where('far_id', 'is not', null)
      .executeTakeFirstOrThrow();
    const threaded = await takeReply(world.shell, {
      shopId: SHOP,
      channel: 'email',
      farId: 'mail-1',
      from: 'other@example.net',
      to: null,
      body: 'all good',
      receivedAt: world.clock.now().toISOString(),
      raw: { inReplyTo: [attempt.far_id] },
    });
    expect(await standing(threaded.inboundId)).toMatchObject({ wearer_id: wearerId, linked_how: 'thread' });
    const message = await database.db.selectFrom('message').select('message_id').executeTakeFirstOrThrow();
    await database.db
      .insertInto('token')
      .values({
        shop_id: SHOP,
        token_hash: tokenHash('abc'),
        purpose: 'reply',
        subject_id: message.message_id,
        expires_at: new Date('2027-01-01'),
        used_at: null,
      })
      .execute();
    const tokened = await takeReply(world.shell, {
      shopId: SHOP,
      channel: 'email',
      farId: 'mail-2',
      from: 'other@example.net',
      to: null,
      body: 'all good',
      receivedAt: world.clock.now().toISOString(),
      raw: { replyToken: 'abc' },
    });
    expect(await standing(tokened.inboundId)).toMatchObject({
      wearer_id: wearerId,
      linked_how: 'reply token',
    });
    expect(phone).toBeDefined();
  });

  test('an unknown sender, weighty words and words without a label wait in the tray until a person has looked', async () => {
    const { phone } = await world.job();
    const unknown = await world.says('+12025550199', 'the floor sways');
    expect(await standing(unknown)).toMatchObject({ tray_why: 'unknown sender' });
    const nothing = await world.says(phone, 'Will let you know');
    expect(await standing(nothing)).toMatchObject({ state: 'tray', tray_why: 'no label' });
    expect(
      (await correctLabels(world.shell, SHOP, nothing!, ['swim'], 'told on the phone', 'Owner')).ok,
    ).toBe(true);
    expect((await openCase()).labels).toEqual(['swim']);
    const kept = await database.db.selectFrom('correction').selectAll().executeTakeFirstOrThrow();
    expect(kept).toMatchObject({ labels_before: [], labels_after: ['swim'], by_name: 'Owner' });
    expect((await doneWithTray(world.shell, SHOP, unknown!)).ok).toBe(true);
    expect((await doneWithTray(world.shell, SHOP, unknown!)).ok).toBe(false);
  });

  test('a danger sign opens a case at once, cautions the wearer, and holds what a machine would say', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    await world.says(phone, 'lots of new floaters and flashing since this morning in my left eye');
    expect(await openCase()).toMatchObject({ danger: true, act: 'urgent' });
    await world.playTo('2026-03-10T15:30:00Z');
    const purposes = (await world.sent(phone)).map((one) => one.purpose);
    expect(purposes.at(-1)).toBe('caution');
  });

  test('stop with danger in it: obeyed for all but the caution', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    await world.says(phone, 'stop texting me. I have lost the sight in my right eye since last night');
    await world.playTo('2026-03-12T15:30:00Z');
    const purposes = (await world.sent(phone)).map((one) => one.purpose).slice(2);
    expect(purposes.sort()).toEqual(['caution', 'stop confirmed']);
  });

  test('a trouble opens a case ranked with the numbers of the job, and every ranking is kept', async () => {
    const height = { unit: 'mm', how: '', by: null, source: 'order', from: 'test' } as const;
    const { phone } = await world.job({
      facts: [
        { key: 'base_curve_D', value: 6, eye: 'R', ...height, unit: 'D' },
        { key: 'base_curve_D', value: 6, eye: 'L', ...height, unit: 'D' },
        { key: 'prev_base_curve_D', value: 3.5, eye: 'R', ...height, unit: 'D' },
        { key: 'prev_base_curve_D', value: 3.5, eye: 'L', ...height, unit: 'D' },
      ],
      firstMultifocal: false,
    });
    await world.playTo(DAY_3);
    await world.says(phone, 'the floor rolls like a boat when I walk');
    const file = await openCase();
    expect(file).toMatchObject({ leading_cause: 'base-curve-change' });
    expect(file.leading_why).toContain('2.50');
    const fact = {
      key: 'cross_above_pupil_mm',
      eye: 'R',
      value: 0,
      unit: 'mm',
      how: 'marks',
      by: 'Owner',
      source: 'bench',
    } as const;
    await actOnCase(world.shell, SHOP, file.case_id, { kind: 'fact', fact }, 'Owner');
    const kept = await database.db
      .selectFrom('ranking_snapshot')
      .select(['facts', 'catalogue_version'])
      .orderBy('at')
      .execute();
    expect(kept).toHaveLength(2);
    expect(kept[1]!.facts).toMatchObject({ cross_above_pupil_mm: { R: 0 } });
  });

  test('a follow-up question is asked, its tap answer becomes a fact of the job, and the causes move', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    await world.says(phone, 'they do not go dark enough when I am outside');
    await world.playTo('2026-03-05T16:00:00Z');
    const asked = await openCase();
    expect(asked.state).toBe('asked the wearer');
    expect((await world.sent(phone)).at(-1)!.body).toMatch(/\na /);
    await world.says(phone, 'a');
    const after = await openCase();
    expect(after.state).toBe('new');
    const facts = await database.db
      .selectFrom('fact')
      .select(['key', 'source', 'how'])
      .where('source', '=', 'wearer')
      .execute();
    expect(facts[0]).toMatchObject({ source: 'wearer', how: 'answered “a”' });
  });

  test('at most two questions a day and five a case, however much there is to ask', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    const question = {
      id: 'push-up-helps',
      text: 'Does it get better when you push the glasses up?',
      answers: [
        { key: 'yes', words: 'yes' },
        { key: 'no', words: 'no' },
      ],
    };
    const days = [5, 6, 7, 9].map((day) => `2026-03-0${day}`);
    const put: number[] = [];
    for (const day of days) {
      const before = (await world.sent(phone)).length;
      for (const hour of [16, 17, 18]) {
        await world.playTo(`${day}T${hour}:00:00Z`);
        await world.says(phone, 'they do not go dark enough when I am outside');
        await database.db
          .updateTable('case_file')
          .set({ question: JSON.stringify(question) })
          .execute();
        await world.playTo(`${day}T${hour}:10:00Z`);
      }
      const sent = (await world.sent(phone)).slice(before);
      put.push(sent.filter((one) => one.purpose === 'question').length);
    }
    expect(put).toEqual([2, 2, 1, 0]);
  });

  test('a trouble told after its case was closed opens a case of its own, with its own history', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    await world.says(phone, 'the floor swims when I walk');
    const first = await openCase();
    await database.db
      .updateTable('case_file')
      .set({ closed_at: world.clock.now(), state: 'settled', outcome: 'settled' })
      .execute();
    await world.says(phone, 'now they slide down my nose');
    const second = await openCase();
    expect(second.case_id).not.toBe(first.case_id);
    expect(second.labels).toEqual(['slipping']);
  });

  test('a bare answer to a question older than 48 hours is asked again, not read', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    world.clock.moveTo(new Date('2026-03-07T15:31:00Z'));
    await world.says(phone, '4');
    expect(await database.db.selectFrom('case_file').select('case_id').execute()).toEqual([]);
    await world.playTo('2026-03-07T15:40:00Z');
    expect((await world.sent(phone)).at(-1)!.purpose).toBe('asked-again');
  });

  test('bare 3 opens a case and asks what is not right; its answer names the trouble', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    await world.says(phone, '3');
    await world.playTo('2026-03-05T15:40:00Z');
    expect((await world.sent(phone)).at(-1)!.body).toContain('What is not right?');
    await world.says(phone, 'a');
    expect((await openCase()).labels).toContain('distance-blur');
  });

  test('an act on a case that somebody changed meanwhile is refused, and nothing is done', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    await world.says(phone, 'the floor sways');
    const seen = await openCase();
    await actOnCase(world.shell, SHOP, seen.case_id, { kind: 'hold' }, 'Ada');
    const act = { kind: 'act', act: 'adjust', way: 'at the shop', note: '', state: 'coming in' } as const;
    const refused = await actOnCase(world.shell, SHOP, seen.case_id, act, 'Ben', seen.version);
    expect(refused).toMatchObject({ ok: false, problems: [{ code: 'case-changed' }] });
    expect((await openCase()).state).toBe('held');
  });

  test('a case cannot become settled while its wearer has something in the tray', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    await world.says(phone, 'the floor sways');
    await world.says(phone, 'Will let you know');
    const { case_id } = await openCase();
    const close = {
      kind: 'close',
      outcome: 'settled',
      reason: null,
      borneBy: null,
      cause: null,
      causeHow: null,
    } as const;
    expect(await actOnCase(world.shell, SHOP, case_id, close, 'Owner')).toMatchObject({
      ok: false,
      problems: [{ code: 'tray' }],
    });
    const waiting = await database.db
      .selectFrom('inbound_standing')
      .select('inbound_id')
      .where('state', '=', 'tray')
      .executeTakeFirstOrThrow();
    await doneWithTray(world.shell, SHOP, waiting.inbound_id);
    expect((await actOnCase(world.shell, SHOP, case_id, close, 'Owner')).ok).toBe(true);
  });

  test('staff write to the wearer: by an agreed channel only, signed as theirs, once for one press', async () => {
    const { phone } = await world.job();
    await world.playTo(DAY_3);
    await world.says(phone, 'the floor sways');
    const { case_id } = await openCase();
    const write = {
      kind: 'write',
      text: 'Could you pop in on Friday?',
      channel: 'text',
      onceKey: 'press-1',
    } as const;
    await actOnCase(world.shell, SHOP, case_id, write, 'Owner');
    await actOnCase(world.shell, SHOP, case_id, write, 'Owner');
    await world.playTo('2026-03-05T15:32:00Z');
    expect((await world.sent(phone)).filter((one) => one.body.includes('pop in on Friday'))).toHaveLength(1);
    const email = await actOnCase(
      world.shell,
      SHOP,
      case_id,
      { ...write, channel: 'email', onceKey: 'press-2' },
      'Owner',
    );
    expect(email).toMatchObject({ ok: false, problems: [{ code: 'no-contact' }] });
  });

  test('a reply that was stored and not sorted is picked up by the next tick', async () => {
    const { phone, wearerId } = await world.job();
    const { storeRaw } = await import('../../src/store/inbound.ts');
    const [inboundId] = await storeRaw(database.db, [
      {
        shopId: SHOP,
        channel: 'text',
        farId: 'SM-raw',
        from: phone,
        to: null,
        body: 'all good',
        receivedAt: world.clock.now().toISOString(),
        raw: {},
      },
    ]);
    await world.playTo(world.clock.now());
    expect(await standing(inboundId!)).toMatchObject({ state: 'sorted', wearer_id: wearerId });
  });
});

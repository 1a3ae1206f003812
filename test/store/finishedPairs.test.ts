import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import { dayNumber, finishedPairs, type ReviewedPairs } from '../../src/followup/finishedPairs.ts';
import { keptPairs } from '../../src/followup/keptPairs.ts';
import type { ValidJob } from '../../src/intake/job.ts';
import type { Database } from '../../src/store/database.ts';
import { addFacts } from '../../src/store/jobs.ts';
import { openWorld, SHOP, type TestWorld } from '../followup/world.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';

type Fact = ValidJob['facts'][number];
const fact = (
  key: string,
  value: Fact['value'],
  eye: Fact['eye'] = null,
  by: string | null = null,
): Fact => ({
  key,
  value,
  eye,
  unit: null,
  how: '',
  by,
  source: 'order',
  from: 'test',
});

describe.each(DATABASES)('finished pairs, %s', (kind) => {
  let database: Database;
  let world: TestWorld;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  afterAll(() => database.close());
  beforeEach(async () => {
    world = await openWorld(database);
  });
  const whole = ({ count, inOrder, pair }: ReviewedPairs) => Array.from(inOrder(), pair).slice(0, count);
  const read = async (today: string) => whole(await finishedPairs(database.db, SHOP, {}, dayNumber(today)));

  test('facts of the job become its groups: depth, wrap, add, who measured and how', async () => {
    await world.job({
      facts: [
        fact('material', 'resin'),
        fact('frame_b_mm', 28),
        fact('wrap_deg', 15),
        fact('add_D', 2.25, 'R'),
        fact('add_D', 2.25, 'L'),
        fact('fitting_height_mm', 18, 'R', 'Bea Example'),
        fact('measured', 'seated, ruler'),
      ],
    });
    const [pair] = await read('2026-03-03');
    expect(pair).toMatchObject({
      material: 'resin',
      depthClass: 'under 30 mm deep',
      wrapClass: 'wrap 15° and more',
      addBand: '2.25 and more',
      measuredBy: 'Bea Example',
      measuredHow: 'seated, ruler',
      lightReactiveGrade: null,
      design: 'soft 15',
      month: '2026-03',
      handedOverDay: dayNumber('2026-03-02'),
      outcome: null,
    });
  });

  test('looks: settled on day 7, silent on day 14 only after three days, day 30 not due', async () => {
    const { phone } = await world.job();
    await world.playTo('2026-03-09T18:00:00Z');
    await world.says(phone, '1');
    await world.playTo('2026-03-18T18:00:00Z');
    expect((await read('2026-03-18'))[0]!.looks).toEqual({ 7: 'settled', 14: 'not due', 30: 'not due' });
    expect((await read('2026-03-19'))[0]!.looks).toEqual({ 7: 'settled', 14: 'silent', 30: 'not due' });
  });

  test('an answer with a trouble is not settled, until a person mends the label', async () => {
    const { phone } = await world.job();
    await world.playTo('2026-03-09T18:00:00Z');
    const inboundId = await world.says(phone, 'The floor swims when I walk');
    await world.playTo('2026-03-09T19:00:00Z');
    expect((await read('2026-03-12'))[0]!.looks[7]).toBe('not yet');
    await database.db
      .insertInto('correction')
      .values({
        shop_id: SHOP,
        correction_id: 'c',
        inbound_id: inboundId!,
        labels_before: ['swim'],
        labels_after: ['settled'],
        why: null,
        by_name: 'Owner',
        at: world.clock.now(),
      })
      .execute();
    expect((await read('2026-03-12'))[0]!.looks[7]).toBe('settled');
  });

  test('a closed case gives outcome, cause, act and suggestion; the reason is read from the cause', async () => {
    const { phone } = await world.job();
    await world.playTo('2026-03-09T18:00:00Z');
    await world.says(phone, 'I have to lift my chin to read');
    await world.playTo('2026-03-09T19:00:00Z');
    const file = await database.db.selectFrom('case_file').selectAll().executeTakeFirstOrThrow();
    const act = { kind: 'act', act: 're-measure', way: 'at the shop', note: '', state: 'coming in' } as const;
    await actOnCase(world.shell, SHOP, file.case_id, act, 'Owner');
    await actOnCase(
      world.shell,
      SHOP,
      file.case_id,
      {
        kind: 'close',
        outcome: 'remade in the same design',
        reason: null,
        borneBy: 'the shop',
        cause: 'cross-too-low',
        causeHow: 'found at the bench',
      },
      'Owner',
    );
    const [pair] = await read('2026-03-20');
    expect(pair).toMatchObject({
      outcome: 'remade in the same design',
      endedDay: dayNumber('2026-03-09'),
      reason: 'measured',
      borneBy: 'the shop',
      causeFound: 'cross-too-low',
      causeFoundHow: 'found at the bench',
      actTaken: 're-measure',
      actSuggested: file.act,
      causeSuggested: file.leading_cause,
      windowMissed: false,
    });
    expect(pair!.causeSuggestedShare).toBeCloseTo(file.leading_share!, 6);
  });

  test('the lab window is missed when the pair is made again on day 61 after the hand-over, not on day 60', async () => {
    const { pairId } = await world.job();
    const ended = (on_day: string) =>
      database.db
        .insertInto('outcome')
        .values({
          shop_id: SHOP,
          pair_id: pairId,
          outcome: 'exchanged',
          exchanged_to: 'other',
          reason: 'settling',
          borne_by: 'the lab',
          cause: null,
          cause_how: null,
          on_day,
          by_name: 'Owner',
          at: world.clock.now(),
        })
        .onConflict((clash) => clash.columns(['shop_id', 'pair_id']).doUpdateSet({ on_day }))
        .execute();
    await ended('2026-05-01');
    expect((await read('2026-06-01'))[0]!.windowMissed).toBe(false);
    await ended('2026-05-02');
    expect((await read('2026-06-01'))[0]!.windowMissed).toBe(true);
  });

  test('a cross 1.5 mm above the pupil is a height measured 1.5 mm lower than ordered', async () => {
    await world.job({ facts: [fact('fitting_height_mm', 20, 'R'), fact('wearer_pd_mm', 31, 'R')] });
    const [pair] = await read('2026-03-03');
    expect(pair!.reMeasured).toEqual([]);
    const bench = { eye: 'R', unit: 'mm', how: null, by: 'Owner', source: 'bench' } as const;
    await database.db.transaction().execute((trx) =>
      addFacts(
        trx,
        SHOP,
        [
          { jobId: pair!.jobId, key: 'cross_above_pupil_mm', value: 1.5, ...bench },
          { jobId: pair!.jobId, key: 'cross_nasal_mm', value: 1, ...bench },
        ],
        world.clock.now(),
      ),
    );
    expect((await read('2026-03-03'))[0]!.reMeasured).toEqual([
      { what: 'fitting height', orderedMm: 20, reMeasuredMm: 18.5 },
      { what: 'monocular PD', orderedMm: 31, reMeasuredMm: 32 },
    ]);
  });

  test('pairs that are kept equal pairs read anew after every kind of late change, and are kept when nothing changed', async () => {
    const { pairId, phone } = await world.job({ facts: [fact('fitting_height_mm', 20, 'R')] });
    await world.playTo('2026-03-09T18:00:00Z');
    const columns = async () => (await keptPairs(database.db, SHOP, {}, dayNumber('2026-03-20'))).pairs;
    const kept = async () => whole(await columns());
    let before = await kept();
    expect(await columns()).toBe(await columns());
    const { jobId } = before[0]!;
    const at = world.clock.now();
    const bench = { eye: 'R', unit: 'mm', how: null, by: 'Owner', source: 'bench' } as const;
    let inboundId = '';
    const late: Record<string, () => Promise<unknown>> = {
      'a reply': async () => {
        inboundId = (await world.says(phone, 'The floor swims when I walk'))!;
        await world.playTo('2026-03-09T19:00:00Z');
      },
      'a label mended': () =>
        database.db
          .insertInto('correction')
          .values({
            shop_id: SHOP,
            correction_id: 'c',
            inbound_id: inboundId,
            labels_before: ['swim'],
            labels_after: ['settled'],
            why: null,
            by_name: 'Owner',
            at,
          })
          .execute(),
      'a measure at the bench': () =>
        database.db
          .transaction()
          .execute((trx) =>
            addFacts(trx, SHOP, [{ jobId, key: 'cross_above_pupil_mm', value: 1, ...bench }], at),
          ),
      'an outcome': () =>
        database.db
          .insertInto('outcome')
          .values({
            shop_id: SHOP,
            pair_id: pairId,
            outcome: 'refunded',
            exchanged_to: null,
            reason: 'settling',
            borne_by: null,
            cause: null,
            cause_how: null,
            on_day: '2026-03-12',
            by_name: 'Owner',
            at,
          })
          .execute(),
      'another reason': () => database.db.updateTable('outcome').set({ reason: 'changed mind' }).execute(),
      'a hand-over moved': () =>
        database.db.updateTable('pair').set({ handed_over_on: '2026-03-01' }).execute(),
      'a design renamed': () => database.db.updateTable('lens_design').set({ name: 'soft 16' }).execute(),
      'another pair': () => world.job(),
      'an outcome taken back': () => database.db.deleteFrom('outcome').execute(),
    };
    for (const [what, change] of Object.entries(late)) {
      await change();
      const after = await kept();
      expect(after, what).not.toEqual(before);
      expect(after, what).toEqual(await read('2026-03-20'));
      before = after;
    }
  });

  test('pairs of another shop are not among them', async () => {
    await world.job();
    expect((await finishedPairs(database.db, 'other', {}, dayNumber('2026-03-03'))).count).toBe(0);
    expect((await keptPairs(database.db, 'other', {}, dayNumber('2026-03-03'))).pairs.count).toBe(0);
  });
});

import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { noteClaim } from '../../src/followup/claimOnLab.ts';
import { claimStands } from '../../src/followup/claimStands.ts';
import { handOver } from '../../src/followup/handOver.ts';
import { type RemakeAsked, remakeJob } from '../../src/followup/remakeJob.ts';
import { loadStarterDesigns } from '../../src/followup/starterDesigns.ts';
import type { Claim } from '../../src/store/claims.ts';
import type { Database } from '../../src/store/database.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

const claim = (over: Partial<Claim>): Claim => ({
  shop_id: SHOP,
  claim_id: 'c',
  case_id: null,
  job_id: 'j',
  lab_id: null,
  reason: 'settling',
  state: 'asked',
  asked_on: '2026-03-02',
  send_back_by: null,
  sent_on: null,
  promised_amount: null,
  promised_on: null,
  credited_amount: null,
  credited_on: null,
  ...over,
});

describe('what is to be remembered of a claim', () => {
  test.each([
    ['2026-03-09', null],
    ['2026-03-10', { kind: 'send', by: '2026-03-15', daysLeft: 5 }],
    ['2026-03-15', { kind: 'send', by: '2026-03-15', daysLeft: 0 }],
    ['2026-03-16', { kind: 'late', by: '2026-03-15' }],
  ])('lenses to go back by 15 March, on %s', (today, reminder) => {
    expect(claimStands(claim({ send_back_by: '2026-03-15' }), today).reminder).toEqual(reminder);
  });

  test('sent back: nothing more to remember; promised: asked after on day 31, not on day 30', () => {
    const sent = claim({ send_back_by: '2026-03-15', sent_on: '2026-03-12' });
    expect(claimStands(sent, '2026-03-20').reminder).toBeNull();
    const promised = { ...sent, promised_on: '2026-03-20', promised_amount: 40 };
    expect(claimStands(promised, '2026-04-19').reminder).toBeNull();
    expect(claimStands(promised, '2026-04-20').reminder).toEqual({ kind: 'ask after', since: '2026-03-20' });
    expect(claimStands({ ...promised, credited_on: '2026-04-01' }, '2026-06-01')).toEqual({
      steps: [],
      reminder: null,
    });
  });

  test('each step once, and none before it was asked', () => {
    expect(claimStands(undefined, '2026-03-02').steps).toEqual(['asked']);
    expect(claimStands(claim({}), '2026-03-02').steps).toEqual(['sent', 'promised', 'credited']);
    expect(claimStands(claim({ promised_on: '2026-03-03' }), '2026-03-04').steps).toEqual([
      'sent',
      'credited',
    ]);
  });
});

describe.each(DATABASES)('made again without a case (%s)', (kind) => {
  let database: Database;
  let world: TestWorld;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  beforeEach(async () => {
    world = await openWorld(database);
  });
  afterAll(() => database.close());

  const jobOf = async (pairId: string) =>
    (
      await database.db
        .selectFrom('pair')
        .select('job_id')
        .where('pair_id', '=', pairId)
        .executeTakeFirstOrThrow()
    ).job_id;
  const again = async (pairId: string, over: Partial<RemakeAsked> = {}) =>
    remakeJob(
      world.shell,
      SHOP,
      await jobOf(pairId),
      { reason: 'made wrong', borneBy: 'the lab', toDesign: '', ...over },
      'Tom',
    );
  const order = {
    key: 'fitting_height_mm',
    eye: 'R',
    value: 19,
    unit: 'mm',
    how: '',
    by: null,
    source: 'order',
  } as const;
  const read = {
    key: 'read_power',
    eye: 'R',
    value: [1, 0, 180],
    unit: 'D',
    how: '',
    by: null,
    source: 'lensmeter',
  } as const;

  test('a new job is chained to the pair, with the order carried over and nothing that was read', async () => {
    const { pairId } = await world.job({ number: 'J-9', facts: [order, read] as never });
    const done = await again(pairId);
    if (!done.ok) throw new Error(JSON.stringify(done.problems));
    const job = await database.db
      .selectFrom('job')
      .select(['job_key', 'remake_of_pair_id', 'ordered_on', 'handed_over_on'])
      .where('job_id', '=', done.value.jobId)
      .executeTakeFirstOrThrow();
    expect(job).toEqual({
      job_key: 'J-9 again',
      remake_of_pair_id: pairId,
      ordered_on: '2026-03-02',
      handed_over_on: null,
    });
    const facts = await database.db
      .selectFrom('fact')
      .select(['key', 'value'])
      .where('job_id', '=', done.value.jobId)
      .execute();
    expect(facts).toEqual([{ key: 'fitting_height_mm', value: 19 }]);
  });

  test('the first pair’s outcome, reason and who bears it are on record, and it is asked about no more', async () => {
    const { pairId, phone } = await world.job();
    await again(pairId);
    expect(
      await database.db
        .selectFrom('outcome')
        .select(['outcome', 'reason', 'borne_by', 'exchanged_to'])
        .where('pair_id', '=', pairId)
        .execute(),
    ).toEqual([
      { outcome: 'remade in the same design', reason: 'made wrong', borne_by: 'the lab', exchanged_to: null },
    ]);
    await world.playTo('2026-04-10T12:00:00Z');
    expect(await world.sent(phone)).toEqual([]);
  });

  test('into another design it is an exchange, and the new job is in that design', async () => {
    const { pairId } = await world.job();
    await loadStarterDesigns(database.db, SHOP, world.clock.now());
    const to = await database.db
      .selectFrom('lens_design')
      .select('design_id')
      .where('name', '=', 'soft 17')
      .executeTakeFirstOrThrow();
    const done = await again(pairId, { reason: 'settling', borneBy: 'the shop', toDesign: to.design_id });
    if (!done.ok) throw new Error('refused');
    const outcome = await database.db
      .selectFrom('outcome')
      .select(['outcome', 'exchanged_to'])
      .executeTakeFirstOrThrow();
    expect(outcome).toEqual({ outcome: 'exchanged', exchanged_to: 'soft 17' });
    const job = await database.db
      .selectFrom('job')
      .select('design_id')
      .where('job_id', '=', done.value.jobId)
      .executeTakeFirstOrThrow();
    expect(job.design_id).toBe(to.design_id);
  });

  test.each(['measured', 'typed wrong', 'prescription'])(
    'an order at fault (%s) is not carried over',
    async (reason) => {
      const { pairId } = await world.job({ facts: [order] as never });
      const done = await again(pairId, { reason });
      if (!done.ok) throw new Error('refused');
      expect(
        await database.db.selectFrom('fact').select('key').where('job_id', '=', done.value.jobId).execute(),
      ).toEqual([]);
    },
  );

  test('handed over, the new pair replaces the first and has a plan of its own', async () => {
    const { pairId, phone } = await world.job();
    const done = await again(pairId);
    if (!done.ok) throw new Error('refused');
    await world.playTo('2026-03-09T15:00:00Z');
    const handed = await handOver(
      world.shell,
      SHOP,
      done.value.jobId,
      { on: '2026-03-09', firstWornOn: '', consent: {}, words: '', askedBy: '' },
      'Tom',
    );
    if (!handed.ok) throw new Error(JSON.stringify(handed.problems));
    const pair = await database.db
      .selectFrom('pair')
      .select('replaces_pair_id')
      .where('pair_id', '=', handed.value.pairId)
      .executeTakeFirstOrThrow();
    expect(pair.replaces_pair_id).toBe(pairId);
    await world.playTo('2026-03-12T20:00:00Z');
    const bodies = (await world.sent(phone)).map((one) => one.body);
    expect(
      bodies.some(
        (body) => body.includes('glasses better?') || body.includes('what was wrong before put right'),
      ),
    ).toBe(true);
  });

  test('once for a pair, not before it left the shop, and not while a case is open', async () => {
    const { pairId, phone } = await world.job();
    await again(pairId);
    expect(await again(pairId)).toMatchObject({
      ok: false,
      problems: [{ what: expect.stringContaining('already') }],
    });
    const second = await world.job();
    await world.says(second.phone, 'the frame is crooked on my face');
    expect(await again(second.pairId)).toMatchObject({
      ok: false,
      problems: [{ what: 'A case is open for this pair.' }],
    });
    expect(phone).not.toBe(second.phone);
    const third = await world.job();
    expect(await again(third.pairId, { reason: 'whim' })).toMatchObject({
      ok: false,
      problems: [{ where: 'reason' }],
    });
    expect(await again(third.pairId, { borneBy: 'nobody' })).toMatchObject({
      ok: false,
      problems: [{ where: 'borne_by' }],
    });
  });

  test('a claim: asked, sent, promised, credited, each with its day', async () => {
    const { pairId } = await world.job();
    const jobId = await jobOf(pairId);
    const note = (what: string, amount = '', sendBackBy = '') =>
      noteClaim(world.shell, SHOP, jobId, { what, amount, sendBackBy, reason: 'made wrong' }, 'Tom');
    expect(await note('sent')).toMatchObject({ ok: false });
    expect(await note('asked', '', '2026-03-01')).toMatchObject({
      ok: false,
      problems: [{ where: 'send_back_by' }],
    });
    expect((await note('asked', '', '2026-03-16')).ok).toBe(true);
    expect(await note('asked')).toMatchObject({ ok: false });
    expect((await note('sent')).ok).toBe(true);
    expect(await note('promised')).toMatchObject({ ok: false, problems: [{ where: 'amount' }] });
    expect((await note('promised', '$40')).ok).toBe(true);
    expect((await note('credited', '38.50')).ok).toBe(true);
    const row = await database.db.selectFrom('claim_on_lab').selectAll().executeTakeFirstOrThrow();
    expect(row).toMatchObject({
      reason: 'made wrong',
      state: 'credited',
      send_back_by: '2026-03-16',
      sent_on: '2026-03-02',
      promised_amount: 40,
      credited_amount: 38.5,
    });
  });
});

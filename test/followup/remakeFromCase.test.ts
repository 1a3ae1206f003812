import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { actOnCase } from '../../src/followup/actOnCase.ts';
import { handOver } from '../../src/followup/handOver.ts';
import { gather } from '../../src/followup/jobFactsOf.ts';
import { signDraft } from '../../src/followup/signDraft.ts';
import type { Database } from '../../src/store/database.ts';
import { addFacts, factsOf } from '../../src/store/jobs.ts';
import { DATABASES, freshDatabase } from '../setup/databases.ts';
import { openWorld, SHOP, type TestWorld } from './world.ts';

describe.each(DATABASES)('made again from a case (%s)', (kind) => {
  let database: Database;
  let world: TestWorld;
  beforeAll(async () => {
    database = await freshDatabase(kind);
  });
  beforeEach(async () => {
    world = await openWorld(database);
  });
  afterAll(() => database.close());

  const fact = (key: string, eye: 'R' | 'L' | null, value: unknown, source = 'order') => ({
    key,
    eye,
    value,
    unit: null,
    how: null,
    by: 'Tom',
    source,
  });
  const theCase = () => database.db.selectFrom('case_file').selectAll().executeTakeFirstOrThrow();
  const outcomes = () => database.db.selectFrom('outcome').selectAll().orderBy('at').execute();

  /** A pair whose crosses sit two millimetres low, a wearer who says so, and a licensed person who signs the remake. */
  async function signed() {
    const { pairId, phone } = await world.job();
    const { job_id } = await database.db
      .selectFrom('pair')
      .select('job_id')
      .where('pair_id', '=', pairId)
      .executeTakeFirstOrThrow();
    await addFacts(
      database.db,
      SHOP,
      [
        fact('fitting_height_mm', 'R', 18),
        fact('fitting_height_mm', 'L', 18),
        fact('rx', 'R', [1, -0.5, 90]),
        fact('cross_above_pupil_mm', 'R', -2, 'bench'),
        fact('cross_above_pupil_mm', 'L', -2, 'bench'),
        fact('slips', null, false, 'bench'),
      ].map((one) => ({ ...one, jobId: job_id })),
      world.clock.now(),
    );
    await world.says(phone, 'I have to lift my chin to read');
    const person = await database.db
      .updateTable('person')
      .set({ licence_number: 'LX-1', licensed_until: '2027-01-01' })
      .returning('person_id')
      .executeTakeFirstOrThrow();
    const { case_id } = await theCase();
    const signing = {
      personId: person.person_id,
      cause: 'cross-too-low',
      question: '',
      refractionChecked: false,
      checkedByOther: false,
    };
    const sign = () => signDraft(world.shell, SHOP, case_id, 'remake', signing, 'Tom', undefined);
    const done = await sign();
    expect(done.ok).toBe(true);
    return { pairId, phone, firstJob: job_id, caseId: case_id, sign };
  }
  const secondJob = () =>
    database.db
      .selectFrom('job')
      .selectAll()
      .where('remake_of_pair_id', 'is not', null)
      .executeTakeFirstOrThrow();

  test('a signature drafts the new job: the order with the changes in, nothing read or measured carried over', async () => {
    const { pairId } = await signed();
    const job = await secondJob();
    expect(job).toMatchObject({ job_key: 'J-1 again', remake_of_pair_id: pairId, handed_over_on: null });
    expect(gather(await factsOf(database.db, SHOP, job.job_id))).toEqual({
      fitting_height_mm: { R: 20, L: 20 },
      rx_R: [1, -0.5, 90],
    });
    expect(await outcomes()).toMatchObject([
      { pair_id: pairId, outcome: 'remade in the same design', reason: 'measured', borne_by: 'the shop' },
    ]);
    expect(await theCase()).toMatchObject({ closed_at: null, state: 'at the lab' });
    const plan = await database.db.selectFrom('plan').select('state').executeTakeFirstOrThrow();
    expect(plan.state).toBe('ended');
  });

  test('a second signature for the same pair drafts no second job', async () => {
    const { sign } = await signed();
    await sign();
    const jobs = await database.db.selectFrom('job').select('job_id').execute();
    expect(jobs).toHaveLength(2);
  });

  test('the case goes on with the second pair: a plan of its own, the first question after the old trouble', async () => {
    const { phone } = await signed();
    const job = await secondJob();
    world.clock.moveTo(new Date('2026-03-16T15:00:00Z'));
    await handOver(
      world.shell,
      SHOP,
      job.job_id,
      { on: '2026-03-16', firstWornOn: '', consent: {}, words: '', askedBy: '' },
      'Tom',
    );
    const pair = await database.db
      .selectFrom('pair')
      .selectAll()
      .where('job_id', '=', job.job_id)
      .executeTakeFirstOrThrow();
    expect(await theCase()).toMatchObject({ pair_id: pair.pair_id, labels: [], act: null });
    await world.playTo('2026-03-20T15:00:00Z');
    const asked = (await world.sent(phone)).filter(({ purpose }) => purpose === 'check-in').at(-1);
    expect(asked?.body).toContain('new glasses better?');
    await world.says(phone, 'I still have to lift my chin to read');
    const cases = await database.db.selectFrom('case_file').selectAll().execute();
    expect(cases).toHaveLength(1);
    expect(cases[0]!.labels).toContain('near-too-low');
  });

  test('and closes on the outcome of the second pair', async () => {
    const { pairId, caseId } = await signed();
    const job = await secondJob();
    world.clock.moveTo(new Date('2026-03-16T15:00:00Z'));
    await handOver(
      world.shell,
      SHOP,
      job.job_id,
      { on: '2026-03-16', firstWornOn: '', consent: {}, words: '', askedBy: '' },
      'Tom',
    );
    const done = await actOnCase(
      world.shell,
      SHOP,
      caseId,
      {
        kind: 'close',
        outcome: 'settled',
        reason: null,
        borneBy: null,
        cause: 'cross-too-low',
        causeHow: 'cured by the act',
      },
      'Tom',
    );
    expect(done.ok).toBe(true);
    const all = await outcomes();
    expect(all.map((one) => [one.pair_id === pairId ? 'first' : 'second', one.outcome])).toEqual([
      ['first', 'remade in the same design'],
      ['second', 'settled'],
    ]);
  });
});

import { newId } from '../ids.ts';
import { rowDigest, type ValidJob } from '../intake/job.ts';
import type { Trx } from '../store/database.ts';
import { addFacts, factsOf, type Job, type NewFact, type Pair } from '../store/jobs.ts';
import { dropPlanned, setPlan } from '../store/plans.ts';
import { jobsByKey } from '../store/takeIn.ts';

/** A new job for the same wearer, chained to the pair that it replaces; nothing of it is measured or received yet. */
export async function chainedJob(
  trx: Trx,
  job: Job,
  pair: Pair,
  to: { design_id: string; name: string } | undefined,
  today: string,
  at: Date,
): Promise<{ jobId: string; jobKey: string }> {
  const jobId = newId(at);
  const jobKey = await freeKey(trx, job);
  const before = job.as_taken as ValidJob;
  const taken: ValidJob = {
    ...before,
    jobNumber: jobKey,
    lensDesign: to?.name ?? before.lensDesign,
    dates: { orderedOn: today },
    facts: [],
  };
  await trx
    .insertInto('job')
    .values({
      shop_id: job.shop_id,
      job_id: jobId,
      job_key: jobKey,
      wearer_id: job.wearer_id,
      design_id: to?.design_id ?? job.design_id,
      lab_id: job.lab_id,
      way: job.way,
      first_multifocal: job.first_multifocal,
      sold_by: job.sold_by,
      ordered_on: today,
      lab_invoiced_on: null,
      received_on: null,
      posted_on: null,
      handed_over_on: null,
      arrived_on: null,
      remake_of_pair_id: pair.pair_id,
      row_digest: rowDigest(taken),
      as_taken: JSON.stringify(taken),
      created_at: at,
    })
    .execute();
  return { jobId, jobKey };
}

/** The number of the first job with "again" behind it, and a figure where that is taken. */
async function freeKey(trx: Trx, job: Job): Promise<string> {
  const base = job.job_key.replace(/ again( \d+)?$/, '');
  const keys = [`${base} again`, ...Array.from({ length: 50 }, (_, index) => `${base} again ${index + 2}`)];
  const taken = new Set((await jobsByKey(trx, job.shop_id, keys)).map((row) => row.job_key));
  return keys.find((key) => !taken.has(key)) ?? `${base} again ${job.job_id.slice(-8)}`;
}

/**
 * What was asked of the lab is asked again, with what is changed in its place; what was read, measured and told of the first
 * pair stays with it.
 */
export async function carryOrder(
  trx: Trx,
  job: Job,
  toJobId: string,
  at: Date,
  changed: readonly NewFact[] = [],
): Promise<void> {
  const placeOf = ({ key, eye }: Pick<NewFact, 'key' | 'eye'>) => `${key} ${eye ?? ''}`;
  const replaced = new Set(changed.map(placeOf));
  const rows = await factsOf(trx, job.shop_id, job.job_id);
  await addFacts(
    trx,
    job.shop_id,
    [
      ...rows
        .filter((row) => row.source === 'order' && !replaced.has(placeOf(row)))
        .map((row) => ({
          jobId: toJobId,
          key: row.key,
          eye: row.eye,
          value: row.value,
          unit: row.unit,
          how: row.how,
          by: row.by_name,
          source: row.source,
        })),
      ...changed,
    ],
    at,
  );
}

/** The replaced pair has its outcome and is asked about no more. */
export async function endReplacedPair(
  trx: Trx,
  shopId: string,
  pair: Pair,
  about: {
    readonly reason: string;
    readonly borneBy: string;
    readonly exchangedTo: string | null;
    readonly today: string;
    readonly by: string;
    /** The cause that it was made again for, and how it is known. */
    readonly cause?: string;
    readonly causeHow?: string;
  },
  at: Date,
): Promise<void> {
  const ended = {
    outcome: about.exchangedTo === null ? ('remade in the same design' as const) : ('exchanged' as const),
    exchanged_to: about.exchangedTo,
    reason: about.reason,
    borne_by: about.borneBy,
    cause: about.cause ?? null,
    cause_how: about.causeHow ?? null,
    on_day: about.today,
    by_name: about.by,
    at,
  };
  await trx
    .insertInto('outcome')
    .values({ shop_id: shopId, pair_id: pair.pair_id, ...ended })
    .onConflict((clash) => clash.columns(['shop_id', 'pair_id']).doUpdateSet(ended))
    .execute();
  await setPlan(trx, shopId, pair.pair_id, 'ended', ended.outcome, at);
  await dropPlanned(trx, shopId, pair.pair_id, ended.outcome);
}

import { newId } from '../ids.ts';
import { rowDigest, type ValidJob } from '../intake/job.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { openCaseOf } from '../store/cases.ts';
import type { Db, Trx } from '../store/database.ts';
import { addFacts, designOf, factsOf, findJob, type Job, type Pair } from '../store/jobs.ts';
import { dropPlanned, setPlan } from '../store/plans.ts';
import { findShop } from '../store/shops.ts';
import { jobsByKey } from '../store/takeIn.ts';
import { noSuchJob } from './handOver.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';

export const REMAKE_REASONS = [
  'settling',
  'measured',
  'made wrong',
  'typed wrong',
  'prescription',
  'finish or breakage',
  'changed mind',
] as const;
export const REMAKE_BEARERS = ['the shop', 'the lab', 'the wearer', 'the prescriber'] as const;

/** Where the order itself was at fault its numbers are not carried over: they are typed or taken in anew. */
const ORDER_AT_FAULT: ReadonlySet<string> = new Set(['measured', 'typed wrong', 'prescription']);

export type RemakeAsked = {
  readonly reason: string;
  readonly borneBy: string;
  /** A design of the lens book by its id; empty: the same. */
  readonly toDesign: string;
};

/**
 * A pair is made again without a case: a new job chained to the pair that it replaces, whose outcome is put on record with
 * the reason and who bears it. When the new pair is handed over it has a plan of its own. Once for each pair.
 */
export async function remakeJob(
  shell: Shell,
  shopId: string,
  jobId: string,
  asked: RemakeAsked,
  by: string,
): Promise<Checked<{ jobId: string; jobKey: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const job = await findJob(trx, shopId, jobId);
    if (!job) return bad(noSuchJob);
    const pair = await lockPairOf(trx, shopId, jobId);
    const why = pair ? await whyNot(trx, shopId, pair) : NOT_HANDED_OVER;
    if (!pair || why) return bad(why ?? NOT_HANDED_OVER);
    const problems = readAsked(asked);
    const design = asked.toDesign === '' ? undefined : await designOf(trx, shopId, asked.toDesign);
    if (asked.toDesign !== '' && !design)
      problems.push(
        refusal('to_design', 'There is no such design in the lens book.', 'Choose one of the list.'),
      );
    if (problems.length > 0) return bad(...problems);
    const today = localDay(now, (await findShop(trx, shopId)).time_zone);
    const to = design && design.design_id !== job.design_id ? design : undefined;
    const made = await newJob(trx, job, pair, to, today, now);
    if (!ORDER_AT_FAULT.has(asked.reason)) await carryOrder(trx, job, made.jobId, now);
    await endPair(trx, shopId, pair, { ...asked, exchangedTo: to?.name ?? null, today, by }, now);
    const detail = { ...asked, from: jobId, to: made.jobId };
    await addAudit(trx, shopId, { by, act: 'made again without a case', subject: jobId, detail }, now);
    return good(made);
  });
}

const refusal = (where: string, what: string, mend: string): Problem => ({
  code: `remake-${where.replaceAll('_', '-')}`,
  what,
  where,
  mend,
});

const NOT_HANDED_OVER = refusal(
  'job',
  'These glasses have not left the shop.',
  'Change the numbers of the job instead; it counts as a remake only once somebody has them.',
);

/** Why a pair cannot be made again from its job; null when it can. */
export async function whyNot(trx: Db | Trx, shopId: string, pair: Pair): Promise<Problem | null> {
  if (await openCaseOf(trx, shopId, pair.pair_id))
    return refusal(
      'job',
      'A case is open for this pair.',
      'Make it again from the case, so that the reason stays with it.',
    );
  const again = await trx
    .selectFrom('job')
    .select('job_key')
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', pair.wearer_id)
    .where('remake_of_pair_id', '=', pair.pair_id)
    .executeTakeFirst();
  return again ? refusal('job', `It is made again already: job ${again.job_key}.`, 'Open that job.') : null;
}

async function lockPairOf(trx: Trx, shopId: string, jobId: string): Promise<Pair | undefined> {
  return trx
    .selectFrom('pair')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .forUpdate()
    .executeTakeFirst();
}

function readAsked({ reason, borneBy }: RemakeAsked): Problem[] {
  const problems: Problem[] = [];
  if (!(REMAKE_REASONS as readonly string[]).includes(reason))
    problems.push(refusal('reason', `“${reason}” is no reason.`, 'Choose one of the list.'));
  if (!(REMAKE_BEARERS as readonly string[]).includes(borneBy))
    problems.push(refusal('borne_by', `“${borneBy}” does not bear it.`, 'Choose one of the list.'));
  return problems;
}

async function newJob(
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

/** What was asked of the lab is asked again; what was read, measured and told of the first pair stays with it. */
async function carryOrder(trx: Trx, job: Job, toJobId: string, at: Date): Promise<void> {
  const rows = await factsOf(trx, job.shop_id, job.job_id);
  await addFacts(
    trx,
    job.shop_id,
    rows
      .filter((row) => row.source === 'order')
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
    at,
  );
}

async function endPair(
  trx: Trx,
  shopId: string,
  pair: Pair,
  about: RemakeAsked & { exchangedTo: string | null; today: string; by: string },
  at: Date,
): Promise<void> {
  const ended = {
    outcome: about.exchangedTo === null ? ('remade in the same design' as const) : ('exchanged' as const),
    exchanged_to: about.exchangedTo,
    reason: about.reason,
    borne_by: about.borneBy,
    on_day: about.today,
    by_name: about.by,
    at,
  };
  await trx
    .insertInto('outcome')
    .values({ shop_id: shopId, pair_id: pair.pair_id, cause: null, cause_how: null, ...ended })
    .onConflict((clash) => clash.columns(['shop_id', 'pair_id']).doUpdateSet(ended))
    .execute();
  await setPlan(trx, shopId, pair.pair_id, 'ended', ended.outcome, at);
  await dropPlanned(trx, shopId, pair.pair_id, ended.outcome);
}

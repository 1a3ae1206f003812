import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { openCaseOf } from '../store/cases.ts';
import type { Db, Trx } from '../store/database.ts';
import { designOf, findJob, type Pair } from '../store/jobs.ts';
import { findShop } from '../store/shops.ts';
import { carryOrder, chainedJob, endReplacedPair } from './chainedJob.ts';
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
    const made = await chainedJob(trx, job, pair, to, today, now);
    if (!ORDER_AT_FAULT.has(asked.reason)) await carryOrder(trx, job, made.jobId, now);
    await endReplacedPair(
      trx,
      shopId,
      pair,
      { reason: asked.reason, borneBy: asked.borneBy, exchangedTo: to?.name ?? null, today, by },
      now,
    );
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

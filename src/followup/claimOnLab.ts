import { Temporal } from 'temporal-polyfill';
import { figureIn } from '../intake/figures.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { addCaseEvent, openCaseOf } from '../store/cases.ts';
import { type Claim, changeClaim, claimOf, openClaim } from '../store/claims.ts';
import type { Trx } from '../store/database.ts';
import { findJob, type Job } from '../store/jobs.ts';
import { findShop } from '../store/shops.ts';
import { CLAIM_STEPS, type ClaimStep, claimStands } from './claimStands.ts';
import { noSuchJob } from './handOver.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';

const MOST = 10_000;
const LATEST_BACK_DAYS = 365;

export type ClaimNoted = {
  readonly what: string;
  readonly amount: string;
  readonly sendBackBy: string;
  /** What it was asked for; settling where nothing is said. */
  readonly reason: string;
};

/**
 * Notes the next step of a claim on the lab for a job's lenses: asked (with the day by which the lenses have to go back),
 * sent, promised (how much), credited (how much). Steps may be skipped, never taken twice.
 */
export async function noteClaim(
  shell: Shell,
  shopId: string,
  jobId: string,
  noted: ClaimNoted,
  by: string,
): Promise<Checked<{ step: ClaimStep }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const job = await findJob(trx, shopId, jobId);
    if (!job) return bad(noSuchJob);
    const today = localDay(now, (await findShop(trx, shopId)).time_zone);
    const claim = await claimOf(trx, shopId, jobId);
    const step = CLAIM_STEPS.find((one) => one === noted.what);
    if (!step || !claimStands(claim, today).steps.includes(step)) {
      return bad({
        code: 'claim-step',
        what: step ? `“${step}” is noted already, or nothing was asked yet.` : `“${noted.what}” is no step.`,
        where: 'what',
        mend: 'Choose one of the list.',
      });
    }
    const read = readNoted(noted, step, today);
    if (!read.ok) return read;
    const caseId = await caseOf(trx, shopId, jobId);
    await carryOut(trx, shopId, job, claim, step, read.value, { caseId, reason: noted.reason, today, now });
    const told = words(step, read.value);
    if (caseId !== null)
      await addCaseEvent(trx, shopId, caseId, 'note', { text: `claim on the lab: ${told}` }, by, now);
    await addAudit(trx, shopId, { by, act: `claim ${step}`, subject: jobId, detail: read.value }, now);
    return good({ step });
  });
}

type Read = { readonly amount: number | null; readonly sendBackBy: string | null };

function readNoted(noted: ClaimNoted, step: ClaimStep, today: string): Checked<Read> {
  const problems: Problem[] = [];
  const money = step === 'promised' || step === 'credited';
  const amount =
    noted.amount.trim() === '' ? null : (figureIn(noted.amount.replace(/^[^\d.,+-]+/, '')) ?? Number.NaN);
  if (money && (amount === null || !(amount >= 0 && amount <= MOST))) {
    problems.push({
      code: 'claim-amount',
      what: amount === null ? 'The amount is missing.' : `“${noted.amount}” is no amount.`,
      where: 'amount',
      mend: `Write 0 to ${MOST}; 0 where they refuse.`,
    });
  }
  const sendBackBy = noted.sendBackBy.trim() || null;
  if (sendBackBy !== null && !isComing(sendBackBy, today)) {
    problems.push({
      code: 'claim-day',
      what: `“${sendBackBy}” is no day within the next year.`,
      where: 'send_back_by',
      mend: 'Write it as year-month-day, today or later.',
    });
  }
  return problems.length > 0 ? bad(...problems) : good({ amount: money ? amount : null, sendBackBy });
}

function isComing(day: string, today: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(day)) return false;
  try {
    Temporal.PlainDate.from(day, { overflow: 'reject' });
  } catch {
    return false;
  }
  return day >= today && day <= Temporal.PlainDate.from(today).add({ days: LATEST_BACK_DAYS }).toString();
}

async function caseOf(trx: Trx, shopId: string, jobId: string): Promise<string | null> {
  const pair = await trx
    .selectFrom('pair')
    .select('pair_id')
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .executeTakeFirst();
  return pair ? ((await openCaseOf(trx, shopId, pair.pair_id))?.case_id ?? null) : null;
}

async function carryOut(
  trx: Trx,
  shopId: string,
  job: Job,
  claim: Claim | undefined,
  step: ClaimStep,
  { amount, sendBackBy }: Read,
  about: { caseId: string | null; reason: string; today: string; now: Date },
): Promise<void> {
  const { today } = about;
  if (!claim) {
    const { caseId: case_id, now } = about;
    const reason = about.reason.trim().slice(0, 100) || 'settling';
    const { job_id, lab_id } = job;
    await openClaim(
      trx,
      shopId,
      { case_id, job_id, lab_id, reason, send_back_by: sendBackBy, asked_on: today },
      now,
    );
    return;
  }
  const back = sendBackBy === null ? {} : { send_back_by: sendBackBy };
  if (step === 'sent')
    await changeClaim(trx, shopId, claim.claim_id, { state: step, sent_on: today, ...back });
  else if (step === 'promised')
    await changeClaim(trx, shopId, claim.claim_id, {
      state: step,
      promised_amount: amount,
      promised_on: today,
      ...back,
    });
  else
    await changeClaim(trx, shopId, claim.claim_id, {
      state: step,
      credited_amount: amount,
      credited_on: today,
    });
}

function words(step: ClaimStep, { amount, sendBackBy }: Read): string {
  const back = sendBackBy === null ? '' : `, lenses to go back by ${sendBackBy}`;
  return `${step}${amount === null ? '' : ` ${amount.toFixed(2)}`}${back}`;
}

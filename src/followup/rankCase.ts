import type { DaysLeft } from '../causes/act.ts';
import { CATALOGUE_VERSION } from '../causes/catalogue/index.ts';
import { type Weighing, weigh } from '../causes/weigh.ts';
import { type CaseFile, changeCase, keepRanking, questionsAsked } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { findJob, findPair } from '../store/jobs.ts';
import { labTermsOf } from '../store/lensBook.ts';
import { findShop } from '../store/shops.ts';
import { findWearer } from '../store/wearers.ts';
import { actSettings } from './actSettings.ts';
import { deadlinesOf } from './deadlines.ts';
import { jobFactsOf } from './jobFactsOf.ts';
import { localDay } from './planSlots.ts';
import { shopWeights } from './shopWeights.ts';

/**
 * Weighs the causes of a case from its labels and everything known of the job, and keeps the ranking whole beside it: facts,
 * contributions, act and catalogue version, as they stood when somebody looked.
 */
export async function rankCase(
  trx: Trx,
  shopId: string,
  file: Pick<CaseFile, 'case_id' | 'pair_id' | 'wearer_id' | 'labels'>,
  at: Date,
): Promise<Weighing> {
  const shop = await findShop(trx, shopId);
  const wearer = await findWearer(trx, shopId, file.wearer_id);
  const today = localDay(at, wearer?.zone_candidates[0] ?? shop.time_zone);
  const facts = await jobFactsOf(trx, shopId, file.pair_id, today);
  const { daysLeft, way } = await standingOf(trx, shopId, file.pair_id, shop.settings, today);
  const asked = await askedAlready(trx, shopId, file.case_id);
  const own = await shopWeights(trx, shopId);
  const weighing = weigh(
    { reply_labels: file.labels, job: facts },
    {
      daysLeft,
      asked,
      settings: actSettings(shop.settings, way),
      startingWeights: own.casesCounted > 0 ? own.weights : undefined,
    },
  );
  const catalogueVersion =
    own.casesCounted === 0
      ? CATALOGUE_VERSION
      : `${CATALOGUE_VERSION} with ${own.casesCounted} outcomes of this shop`;
  const leading = weighing.causes[0];
  const strongest = leading?.evidence
    .filter((one) => one.toward === 'for' && one.fact !== 'reply_labels')
    .sort((a, b) => b.times - a.times)[0];
  await keepRanking(
    trx,
    shopId,
    file.case_id,
    { labels: file.labels, facts, weighing, catalogueVersion },
    at,
  );
  await changeCase(
    trx,
    shopId,
    file.case_id,
    {
      leading_cause: leading?.id ?? null,
      leading_share: leading?.share ?? null,
      leading_why: strongest?.words ?? null,
      act: weighing.act.id,
      act_way: weighing.act.way,
      act_why: weighing.act.why,
      question: weighing.question ? JSON.stringify(weighing.question) : null,
    },
    at,
  );
  return weighing;
}

/** Days left until both deadlines, and how the glasses reached the wearer. */
async function standingOf(
  trx: Trx,
  shopId: string,
  pairId: string,
  settings: Parameters<typeof deadlinesOf>[2],
  today: string,
): Promise<{ daysLeft: DaysLeft; way: 'counter' | 'post' }> {
  const pair = await findPair(trx, shopId, pairId);
  const job = pair && (await findJob(trx, shopId, pair.job_id));
  if (!pair || !job) return { daysLeft: {}, way: 'counter' };
  const terms = await labTermsOf(trx, shopId, job.lab_id);
  const ends = deadlinesOf(job, pair, settings, terms, today);
  const left = (whose: 'lab' | 'promise') => ends.find((one) => one.whose === whose)!.daysLeft;
  return { daysLeft: { lab: left('lab'), promise: left('promise') }, way: job.way };
}

async function askedAlready(trx: Trx, shopId: string, caseId: string): Promise<string[]> {
  const asked = await questionsAsked(trx, shopId, caseId);
  return asked.flatMap(({ detail }) => (typeof detail.question === 'string' ? [detail.question] : []));
}

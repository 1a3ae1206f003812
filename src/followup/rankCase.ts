import type { DaysLeft } from '../causes/act.ts';
import type { ActSettings } from '../causes/catalogue/acts.ts';
import { CATALOGUE_VERSION } from '../causes/catalogue/index.ts';
import { type Weighing, weigh } from '../causes/weigh.ts';
import { type CaseChange, type CaseFile, keepRanking, questionsAsked } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { type PairGround, pairGround } from '../store/pairGround.ts';
import { actSettings } from './actSettings.ts';
import { deadlinesOf } from './deadlines.ts';
import { jobFactsFrom } from './jobFactsOf.ts';
import { localDay } from './planSlots.ts';
import { shopWeights } from './shopWeights.ts';

/**
 * Weighs the causes of a case from its labels and everything known of the job, and keeps the ranking whole beside it: facts,
 * contributions, act and catalogue version, as they stood when somebody looked. What else changes of the case is written with it.
 */
export async function rankCase(
  trx: Trx,
  shopId: string,
  file: Pick<CaseFile, 'case_id' | 'pair_id' | 'wearer_id' | 'labels'>,
  at: Date,
  alsoChange: CaseChange = {},
): Promise<Weighing> {
  const ground = await pairGround(trx, shopId, file.pair_id);
  const { facts, daysLeft, settings } = ground
    ? onDay(ground, localDay(at, ground.wearer.zone_candidates[0] ?? ground.shop.time_zone))
    : NO_PAIR;
  const asked = await askedAlready(trx, shopId, file.case_id);
  const own = await shopWeights(trx, shopId);
  const weighing = weigh(
    { reply_labels: file.labels, job: facts },
    {
      daysLeft,
      asked,
      settings,
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
    {
      ...alsoChange,
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

/** What is known of the pair on a day, the days left until both deadlines, and what acts cost here. */
function onDay(
  ground: PairGround,
  today: string,
): { facts: Record<string, unknown>; daysLeft: DaysLeft; settings: ActSettings } {
  const { job, pair, shop, labTerms } = ground;
  const ends = deadlinesOf(job, pair, shop.settings, labTerms, today);
  const left = (whose: 'lab' | 'promise') => ends.find((one) => one.whose === whose)!.daysLeft;
  return {
    facts: jobFactsFrom(ground, today),
    daysLeft: { lab: left('lab'), promise: left('promise') },
    settings: actSettings(shop.settings, job.way),
  };
}

const NO_PAIR: ReturnType<typeof onDay> = { facts: {}, daysLeft: {}, settings: actSettings({}, 'counter') };

async function askedAlready(trx: Trx, shopId: string, caseId: string): Promise<string[]> {
  const asked = await questionsAsked(trx, shopId, caseId);
  return asked.flatMap(({ detail }) => (typeof detail.question === 'string' ? [detail.question] : []));
}

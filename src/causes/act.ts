import type { Label } from '../replies/types.ts';
import {
  ACT_SETTINGS,
  type ActSettings,
  CURES_BY_PLACE,
  type Way,
  type WayCost,
  WEARER_MAY_MEND,
} from './catalogue/acts.ts';
import { causeName } from './catalogue/names.ts';
import { ACTS, type Act, type Cause } from './catalogue/types.ts';
import { holds } from './conditions.ts';
import type { Contribution } from './contribution.ts';
import { findingWords } from './findings.ts';
import type { JobFacts } from './jobFacts.ts';
import type { RankedCause } from './rank.ts';

/** Days that are left until each deadline; absent where none runs. */
export type DaysLeft = { readonly lab?: number; readonly promise?: number };

export type ActChoice = {
  readonly id: Act;
  readonly way: Way;
  readonly why: string;
  /** Expected cost of each act and way that was open, cheapest first. */
  readonly expectedCosts: readonly { readonly act: Act; readonly way: Way; readonly expectedCost: number }[];
};

/**
 * The act, and its way, of least expected cost: cost of the act + cost of a miss x (1 - sum over causes of share x chance that the
 * act cures that cause). Cheaper and reversible acts win where they would do. Near a deadline a miss costs more, since
 * a wasted round may lose the window. Costs and chances: common practice, no source, set by the shop.
 */
export const chooseAct = (
  ranking: readonly RankedCause[],
  labels: readonly Label[],
  facts: JobFacts,
  daysLeft: DaysLeft = {},
  settings: ActSettings = ACT_SETTINGS,
): ActChoice => {
  const best = leastCostAct(ranking, labels, facts, daysLeft, settings);
  const byPost = best.id === 'adjust' && best.way === 'by post' ? ` ${WEARER_ALONE}` : '';
  return { ...best, why: why(best.id, ranking) + byPost };
};

/** The same without its reason in a sentence. */
export const leastCostAct = (
  ranking: readonly RankedCause[],
  labels: readonly Label[],
  facts: JobFacts,
  daysLeft: DaysLeft = {},
  settings: ActSettings = ACT_SETTINGS,
): Omit<ActChoice, 'why'> => {
  const cured = curedShares(ranking);
  const expectedCosts = openActs(ranking, labels, facts)
    .flatMap((act) => waysFor(act, ranking, settings).map((way) => ({ act, ...way })))
    .map(({ act, way, cost, days }) => ({
      act,
      way,
      expectedCost: cost + missCost(days, daysLeft, settings) * (1 - (cured.get(act) ?? 0)),
    }))
    .sort((a, b) => a.expectedCost - b.expectedCost);
  const best = expectedCosts[0] as (typeof expectedCosts)[number];
  return { id: best.act, way: best.way, expectedCosts };
};

const WEARER_ALONE = 'The wearer may stick on pads and push the frame up; bending is for a shop.';

/** The acts of a cause that its conditions allow for these facts, best first, each once. */
export const actsOf = ({ acts }: Cause, facts: JobFacts): readonly Act[] => [
  ...new Set(
    acts
      .filter(({ when }) => (when ?? []).every((condition) => holds(condition, facts)))
      .map(({ act }) => act),
  ),
];

const curedShares = (ranking: readonly RankedCause[]): ReadonlyMap<Act, number> => {
  const cured = new Map<Act, number>();
  for (const { acts, share } of ranking) {
    acts.forEach((act, place) => {
      cured.set(act, (cured.get(act) ?? 0) + share * (CURES_BY_PLACE[place] ?? 0.2));
    });
  }
  return cured;
};

const waysFor = (
  act: Act,
  ranking: readonly RankedCause[],
  { ways, wearerIsFar }: ActSettings,
): readonly WayCost[] => {
  const leading = ranking[0]?.cause.id ?? '';
  const fit = ways[act].filter(
    ({ way }) =>
      !(wearerIsFar && NEEDS_A_VISIT.has(act) && way === 'at the shop') &&
      !(act === 'adjust' && way === 'by post' && !WEARER_MAY_MEND.has(leading)),
  );
  return fit.length > 0 ? fit : ways[act];
};
const NEEDS_A_VISIT: ReadonlySet<Act> = new Set<Act>(['adjust', 're-measure', 'prescriber']);

const missCost = (days: number, { lab, promise }: DaysLeft, settings: ActSettings): number => {
  const left = Math.min(lab ?? Number.POSITIVE_INFINITY, promise ?? Number.POSITIVE_INFINITY);
  const roundNeeds = days + settings.labDays + settings.trialDays;
  return left < roundNeeds ? settings.missCost * 1.5 : settings.missCost;
};

/** Blur that lasts: no wearer is left to wait when bench and face are clean and sight is still down. */
const BLUR: ReadonlySet<Label> = new Set<Label>([
  'distance-blur',
  'near-blur',
  'intermediate-blur',
  'unclear-blur',
  'one-eye-off',
]);
const LASTING_FROM_DAY = 15;
/** Talk that is not "give it time": it names something found and what to do about it. */
const TALK_WITH_A_REASON: ReadonlySet<string> = new Set([
  'needs-task-pair',
  'dirty-or-smeared',
  'low-abbe-material',
  'switching-pairs',
]);
/** How sure a remake must be before anything reversible has been tried. */
const REMAKE_FIRST_FROM_SHARE = 0.6;

const openActs = (
  ranking: readonly RankedCause[],
  labels: readonly Label[],
  facts: JobFacts,
): readonly Act[] => {
  const leading = ranking[0] as RankedCause;
  const itsActs = leading.acts;
  const mayRemake = itsActs[0] === 'remake' && leading.share >= REMAKE_FIRST_FROM_SHARE;
  const curable = itsActs.filter((act) => act !== 'remake' || mayRemake);
  const talkIsIdle = curable.length > 0 && !curable.includes('coach') && isMeasured(leading);
  const mayCoach = !givesItTime(leading, labels, facts) && !talkIsIdle;
  return ACTS.filter(
    (act) => act !== 'urgent' && (act !== 'coach' || mayCoach) && (act !== 'remake' || mayRemake),
  );
};

const givesItTime = (leading: RankedCause, labels: readonly Label[], facts: JobFacts): boolean => {
  const day = facts.day;
  const lastingBlur =
    typeof day === 'number' && day >= LASTING_FROM_DAY && labels.some((label) => BLUR.has(label));
  const clean = facts.bench_within_limits === true || facts.read_within_limits === true;
  const reason = TALK_WITH_A_REASON.has(leading.cause.id) && leading.contributions.some(isOwnFinding);
  return lastingBlur && clean && !reason;
};

/** Talk does not cure what has been measured: a leading cause with a number of its own is gone after. */
const isMeasured = ({ share, contributions }: RankedCause): boolean =>
  share >= MEASURED_FROM_SHARE &&
  contributions.some((c) => isOwnFinding(c) && c.group !== 'answers' && c.timesAlone >= MEASURED_FROM_TIMES);
const MEASURED_FROM_SHARE = 0.25;
const MEASURED_FROM_TIMES = 5;

const isOwnFinding = (c: Contribution): boolean =>
  c.timesAlone > 1 && c.finding !== 'reply_labels' && c.group !== 'time' && c.group !== 'bench';

const ACT_WORDS: Readonly<Record<Act, string>> = {
  coach: 'Talk it through',
  adjust: 'Adjust the frame first',
  're-measure': 'See the wearer and measure again',
  'check-order': 'Check the pair against order and prescription',
  remake: 'Make it again',
  prescriber: 'Take it to the prescriber',
  urgent: 'Ring now',
};

const why = (act: Act, ranking: readonly RankedCause[]): string => {
  const servedBy = ranking.filter(({ acts }) => acts.includes(act));
  const shared = servedBy.reduce((sum, { share }) => sum + share, 0);
  const leading = servedBy[0] ?? (ranking[0] as RankedCause);
  const strongest = leading.contributions
    .filter((c) => c.timesAlone > 1 && c.finding !== 'reply_labels')
    .sort((a, b) => b.timesAlone - a.timesAlone)[0];
  const number =
    strongest && strongest.finding !== 'reply_labels'
      ? findingWords(strongest.finding, strongest.value)
      : undefined;
  const name = causeName(leading.cause.id);
  const because = number ? `${number} speaks for “${name}”` : `“${name}” leads`;
  return `${ACT_WORDS[act]}: ${because} (${percent(leading.share)}), and this step serves causes that hold ${percent(shared)} together.`;
};

const percent = (share: number): string => `${Math.round(share * 100)} in 100`;

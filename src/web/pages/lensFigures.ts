import { causeName } from '../../causes/catalogue/names.ts';
import type { ReviewedPairs } from '../../followup/finishedPairs.ts';
import { causesOfRemakes } from '../../review/causesOfRemakes.ts';
import { compareTwo, type TwoCompared } from '../../review/compareTwo.ts';
import { behindPoint, type Drift, drift, type Followed } from '../../review/drift.ts';
import { type CostInputs, money } from '../../review/money.ts';
import { type MonthSheet, monthSheet } from '../../review/monthSheet.ts';
import { wilson } from '../../review/oneRate.ts';
import { type OwnBias, ownBias } from '../../review/ownBias.ts';
import { GROUPINGS, type Grouping, type ReasonsCounted } from '../../review/pairs.ts';
import { type RemakeRates, ratesBy } from '../../review/remakeRates.ts';
import { pairsInColumns } from '../../review/ripePairs.ts';
import { suggestionRight } from '../../review/suggestionRight.ts';
import { adaptation, type TimeToAdapt, timeToAdapt } from '../../review/timeToAdapt.ts';
import type { Trace } from '../../review/trace.ts';
import { FEWEST_RIPE } from '../../review/verdicts.ts';
import { countInWords, pairsInWords } from '../../review/words.ts';
import type { ShopSettings } from '../../store/tables.ts';
import { shortDay } from '../format.ts';

/** What the page was asked for, each value one that there is. */
export type ReviewAsked = {
  readonly by: Grouping;
  readonly reasons: 'settling' | 'all';
  readonly first: string;
  readonly second: string;
};

/** What every figure of the page is reckoned from. */
export type Reviewed = {
  readonly pairs: ReviewedPairs;
  readonly upToDate: boolean;
  readonly today: number;
  readonly settings: ShopSettings;
  readonly asked: ReviewAsked;
};

/** A sentence with where its number comes from; `key` finds it again in its part. */
export type SaidFigure = {
  readonly key: string;
  readonly sentence: string;
  readonly trace: Trace;
  /** A lean of our own measuring that the order can be warned of. */
  readonly lean?: OwnBias;
};

export const PARTS = ['group', 'month', 'drift', 'adapt', 'causes', 'bias', 'right', 'money', 'two'] as const;
export type Part = (typeof PARTS)[number];

export function readAsked(query: (name: string) => string | undefined): ReviewAsked {
  const by = GROUPINGS.find((grouping) => grouping === query('by')) ?? 'design';
  return {
    by,
    reasons: query('reasons') === 'all' ? 'all' : 'settling',
    first: (query('first') ?? '').slice(0, 200),
    second: (query('second') ?? '').slice(0, 200),
  };
}

export const countedOf = (reasons: ReviewAsked['reasons']): ReasonsCounted =>
  reasons === 'all' ? 'all reasons' : 'settling-type reasons';

/** Parts that are the same whatever the page is asked for: reckoned once for as long as the pairs are the same. */
const SAME_FOR_ALL: ReadonlySet<Part> = new Set(['month', 'bias', 'right', 'money']);
const saidOf = new WeakMap<Reviewed['pairs'], Map<string, SaidFigure[]>>();

/** The sentences of one part of the page, each with the pairs behind it. */
export function saidIn(part: Part, reviewed: Reviewed): SaidFigure[] {
  if (!SAME_FOR_ALL.has(part)) return sayPart(part, reviewed);
  const kept = saidOf.get(reviewed.pairs) ?? new Map<string, SaidFigure[]>();
  saidOf.set(reviewed.pairs, kept);
  const key = JSON.stringify([part, reviewed.today, reviewed.settings]);
  const said = kept.get(key) ?? sayPart(part, reviewed);
  kept.set(key, said);
  return said;
}

function sayPart(part: Part, reviewed: Reviewed): SaidFigure[] {
  const { pairs, today, settings, asked } = reviewed;
  switch (part) {
    case 'group':
      return ratesOf(reviewed).groups.map(({ group, sentence, rate }) => ({
        key: group,
        sentence,
        trace: rate.trace,
      }));
    case 'month':
      return monthOf(reviewed).sentences.map(({ sentence, trace }, at) => ({
        key: String(at + 1),
        sentence,
        trace,
      }));
    case 'drift':
      return driftSaid(reviewed);
    case 'adapt':
      return adaptOf(reviewed).map(({ group, sentence, trace }) => ({ key: group, sentence, trace }));
    case 'causes':
      return causesSaid(pairs, today, asked);
    case 'bias':
      return (['measuredHow', 'measuredBy'] as const).flatMap((by) =>
        ownBias(pairs, by).map((lean) => ({
          key: `${by} ${lean.what} ${lean.group}`,
          sentence: `${lean.sentence.charAt(0).toUpperCase()}${lean.sentence.slice(1)}; spread ${lean.spreadMm.toFixed(1)} mm.`,
          trace: lean.trace,
          ...(by === 'measuredHow' ? { lean } : {}),
        })),
      );
    case 'right': {
      const found = suggestionRight(pairs);
      const figures = [found.causeRight, found.actKept];
      return [
        ...figures.map((figure, at) => ({
          key: at === 0 ? 'cause' : 'act',
          sentence: found.sentences[at]!,
          trace: figure.trace,
        })),
        ...found.byStatedShare.map(({ from, sentence, trace }) => ({
          key: `above ${from}`,
          sentence,
          trace,
        })),
      ].filter(({ trace }) => trace.n > 0);
    }
    case 'money':
      return moneySaid(pairs, settings, today);
    case 'two': {
      const two = twoOf(reviewed);
      return two === null ? [] : [{ key: 'both', sentence: two.sentence, trace: two.difference.trace }];
    }
  }
}

export function ratesOf({ pairs, today, asked }: Reviewed): RemakeRates {
  return ratesBy(pairsInColumns(pairs, { today, reasons: countedOf(asked.reasons) }), asked.by);
}

/** The month is told of settling-type reasons whatever the page shows: one sheet, one meaning. */
export const monthOf = ({ pairs, today }: Reviewed): MonthSheet =>
  monthSheet(pairs, { today, reasons: 'settling-type reasons' });

/** The drift of the whole shop, by the reasons that the page counts. */
export const driftFound = ({ pairs, today, asked }: Reviewed): Drift =>
  drift(pairs, { today, reasons: countedOf(asked.reasons) });

/** The baseline, and the pairs that made up the evidence at each alarm and now. */
function driftSaid(reviewed: Reviewed): SaidFigure[] {
  const found = driftFound(reviewed);
  if (found.kind === 'too few') return [];
  const { baseline, followed, alarms } = found;
  const { x, n, interval } = baseline.trace;
  const points = [...alarms.map(({ afterPairs }) => afterPairs - 1), followed.count - 1];
  return [
    {
      key: 'baseline',
      sentence: `Baseline: ${countInWords(x!, n, interval!)}.`,
      trace: baseline.trace,
    },
    ...[...new Set(points)].filter((at) => at >= 0).map((at) => evidenceAt(followed, at)),
  ];
}

function evidenceAt(followed: Followed, at: number): SaidFigure {
  const { from } = behindPoint(followed, at);
  const run = Array.from({ length: at - from + 1 }, (_, k) => followed.point(from + k));
  const back = run.filter((point) => point.back);
  const interval = wilson(back.length, run.length);
  return {
    key: `at ${at}`,
    sentence: `Evidence on ${dayWords(run.at(-1)!.ripeOnDay)}: ${countInWords(back.length, run.length, interval)} since it last stood at nothing.`,
    trace: {
      method:
        'log-likelihood-ratio sum against the baseline: the pairs since it last stood at nothing; Wilson 95 %',
      x: back.length,
      n: run.length,
      interval,
      pairIds: back.map(({ pairId }) => pairId),
      amongPairIds: run.map(({ pairId }) => pairId),
    },
  };
}

/** All pairs together, then the groups with enough pairs, at most eleven. */
export function adaptOf({ pairs, today, asked }: Reviewed): TimeToAdapt[] {
  const groups = timeToAdapt(pairs, asked.by, today).filter(({ trace }) => trace.n >= FEWEST_RIPE);
  return [adaptation('All pairs', pairs, today), ...groups.slice(0, MOST_CURVES)].filter(
    ({ steps }) => steps.length > 0,
  );
}
const MOST_CURVES = 11;

/** Two of the groups; the interval is widened for all the couples that they could have been picked from. */
export function twoOf({ pairs, today, asked }: Reviewed): TwoCompared | null {
  const { by, reasons, first, second } = asked;
  if (first === '' || second === '' || first === second) return null;
  const settings = { today, reasons: countedOf(reasons) };
  const large = ratesBy(pairsInColumns(pairs, settings), by).groups.filter(({ ripe }) => ripe >= FEWEST_RIPE);
  const couples = (large.length * (large.length - 1)) / 2;
  return compareTwo(pairs, by, first, second, settings, Math.max(1, couples));
}

function causesSaid(pairs: ReviewedPairs, today: number, { reasons }: ReviewAsked): SaidFigure[] {
  const found = causesOfRemakes(pairs, today);
  const byReason = reasons === 'all' ? found.allReasons : found.settlingType;
  return [
    ...byReason.map(({ reason, sentence, trace }) => ({ key: `reason ${reason}`, sentence, trace })),
    ...found.foundCauses.map(({ cause, sentence, trace }) => ({
      key: `cause ${cause}`,
      sentence: sentence.replace(cause, causeName(cause)),
      trace,
    })),
  ];
}

export const costsOf = ({ costs }: ShopSettings): CostInputs => ({
  lensesPerRemake: costs?.lensesPerRemake ?? null,
  staffHoursPerReturn: costs?.staffHoursPerReturn ?? null,
  staffCostPerHour: costs?.staffCostPerHour ?? null,
  postagePerReturn: costs?.postagePerReturn ?? null,
});

/** Who bears what is only told once something is known to be added up. */
function moneySaid(pairs: ReviewedPairs, settings: ShopSettings, today: number): SaidFigure[] {
  const found = money(pairs, costsOf(settings), today);
  const back = found.windowsMissed.trace.n;
  const bearers = found.byBearer.map(({ borneBy, sentence, amount }) => ({
    key: `by ${borneBy}`,
    sentence:
      found.counted.length > 0
        ? `Borne by ${sentence}`
        : `Borne by ${borneBy}: ${pairsInWords(amount.trace.n)} of ${back} back; the amount is not counted, no costs are filled in.`,
    trace: amount.trace,
  }));
  const [credits, missed] = found.sentences.slice(found.byBearer.length);
  return [
    ...bearers,
    { key: 'credits', sentence: credits!, trace: found.creditsOutstanding.trace },
    { key: 'missed', sentence: missed!, trace: found.windowsMissed.trace },
  ].filter(({ key, trace }) => trace.n > 0 || (key === 'credits' && found.creditsPromised.value > 0));
}

/** "Thu 27 Aug 2026" for a day number. */
export const dayWords = (day: number): string => {
  const text = new Date(day * 86_400_000).toISOString().slice(0, 10);
  return shortDay(text, 0);
};

import { betaQuantile } from './betaDistribution.ts';
import { afterDaysAt, inColumns, type PairColumns, type PairsGiven, wayAt } from './columns.ts';
import { bernoulliWeights, cumulativeSum, riskAdjustedWeight } from './cumulativeSum.ts';
import { wilson } from './oneRate.ts';
import { type ReasonsCounted, WAYS_BACK, type WayBack } from './pairs.ts';
import { RIPE_AFTER_DAYS } from './ripePairs.ts';
import { averageRunLength } from './runLength.ts';
import type { Group } from './shrinkage.ts';
import type { Figure } from './trace.ts';
import { about, countInWords, percent } from './words.ts';

export type DriftSettings = {
  readonly today: number;
  readonly reasons: ReasonsCounted;
  readonly ways?: readonly WayBack[];
  readonly ripeAfterDays?: number;
  /**
   * Pairs ripe by this day make the baseline, for good: a baseline that is worked out anew takes the drift into itself.
   * When absent: the first 200 pairs to ripen, or all of the first 30 days of hand-overs where those are more.
   */
  readonly baselineUntilDay?: number;
  /** On average this many pairs at least lie between two false alarms. */
  readonly pairsBetweenFalseAlarms?: number;
  /** Weigh every pair by the baseline's risk of its kind (first wearer, add band): for when the mix of work changes. */
  readonly weighByMix?: boolean;
};

export type DriftPoint = {
  readonly pairId: string;
  readonly ripeOnDay: number;
  readonly back: boolean;
  /** Evidence for twice the baseline, as a share of the alarm line: 1 is an alarm, after which it starts again. */
  readonly evidence: number;
};

/** The pairs since the baseline, in order; one is made whole where it is looked at. */
export type Followed = {
  readonly count: number;
  readonly evidence: Float64Array;
  readonly point: (at: number) => DriftPoint;
};

type DriftAlarm = {
  readonly pairId: string;
  readonly onDay: number;
  readonly afterPairs: number;
};

export type DriftChart = {
  readonly rateGood: number;
  /** Whole-step form: a pair back moves the sum up by so many steps, any other down by one. */
  readonly stepsUp: number;
  readonly alarmAtSteps: number;
  readonly pairsBetweenFalseAlarms: number;
  readonly pairsToNoticeDoubling: number;
};

export type Drift =
  | { readonly kind: 'too few'; readonly sentence: string }
  | {
      readonly kind: 'chart';
      readonly baseline: Figure;
      readonly chart: DriftChart;
      readonly followed: Followed;
      readonly alarms: readonly DriftAlarm[];
      readonly daysToNoticeDoubling: number;
      readonly caption: string;
      readonly sentence: string;
    };

const BASELINE_PAIRS = 200;
/** A busy shop has more in its first days, and a baseline that is better known notices sooner. Our own choice. */
const BASELINE_DAYS = 30;
/** A baseline of fewer pairs, or of no event at all, is no baseline. Our own choice. */
const FEWEST_BASELINE = 100;
const FALSE_ALARM_EVERY = 1500;
/** Equally likely rates that stand for what the baseline leaves possible. */
const BASELINE_RATES = 12;

/**
 * Whether the rate drifts: a log-likelihood-ratio sum over pairs in the order in which they ripen, each once, against a
 * frozen baseline. Steps are whole, so the pairs between false alarms and the pairs until a doubling is noticed are
 * exact (Markov chain) and stand in the caption. With `weighByMix` every pair is weighed by the risk of its kind (odds
 * ratio 2), and the caption holds for the mean risk.
 */
export function drift(pairs: PairsGiven, settings: DriftSettings): Drift {
  const columns = inColumns(pairs);
  const ripeAfterDays = settings.ripeAfterDays ?? RIPE_AFTER_DAYS;
  const ripe = columns.inOrder().filter((at) => columns.handedOverDay[at]! + ripeAfterDays <= settings.today);
  const isBack = backOf(columns, ripe, settings, ripeAfterDays);
  const baselineSize = sizeOfBaseline(columns, ripe, settings.baselineUntilDay, ripeAfterDays);
  const events = isBack.subarray(0, baselineSize).reduce((sum, back) => sum + back, 0);
  if (baselineSize < FEWEST_BASELINE || events === 0) {
    return {
      kind: 'too few',
      sentence: `Too few ripe pairs for a baseline: ${events} of ${baselineSize} came back; it takes ${FEWEST_BASELINE} pairs and at least one.`,
    };
  }
  const chart = driftChart(
    { events, n: baselineSize },
    settings.pairsBetweenFalseAlarms ?? FALSE_ALARM_EVERY,
  );
  const riskOf =
    settings.weighByMix === true ? riskByMix(columns, ripe.subarray(0, baselineSize), isBack) : undefined;
  const after = ripe.subarray(baselineSize);
  const { followed, alarms } = follow(
    columns,
    after,
    isBack.subarray(baselineSize),
    ripeAfterDays,
    chart,
    riskOf,
  );
  const perDay = pairsPerDay(columns, ripe);
  const daysToNoticeDoubling = Math.round(chart.pairsToNoticeDoubling / perDay + ripeAfterDays);
  const first = Array.from(ripe.subarray(0, baselineSize));
  const interval = wilson(events, baselineSize);
  const baseline: Figure = {
    value: chart.rateGood,
    trace: {
      method: `baseline: the first ${baselineSize} pairs to ripen, ${settings.reasons}; Wilson 95 %`,
      x: events,
      n: baselineSize,
      interval,
      pairIds: first.flatMap((at, k) => (isBack[k] === 1 ? [columns.pairId(at)] : [])),
      amongPairIds: first.map(columns.pairId),
    },
  };
  return {
    kind: 'chart',
    baseline,
    chart,
    followed,
    alarms,
    daysToNoticeDoubling,
    caption:
      `Baseline ${countInWords(events, baselineSize, interval)}, ${settings.reasons}. ` +
      `At an unchanged rate the line is crossed by luck once in about ${about(chart.pairsBetweenFalseAlarms)} pairs, what the baseline leaves open counted in. ` +
      `A doubling to ${percent(2 * chart.rateGood)} % is noticed after about ${about(chart.pairsToNoticeDoubling)} pairs, ` +
      `here about ${daysToNoticeDoubling} days with the ${ripeAfterDays} days until a pair is ripe.` +
      (riskOf === undefined
        ? ''
        : ' Each pair is weighed by the risk of its kind; these figures hold for the mean risk.'),
    sentence: driftSentence(alarms, after.length),
  };
}

/** The pairs that make up the evidence at a point: all since the sum last stood at nothing or began again. */
export function behindPoint(followed: Followed, at: number): { readonly from: number; readonly to: number } {
  const { evidence } = followed;
  let from = at;
  while (from > 0 && evidence[from - 1]! > 0 && evidence[from - 1]! < 1 - 1e-9) from -= 1;
  return { from, to: at };
}

function backOf(
  columns: PairColumns,
  ripe: Int32Array,
  { ways = ['remade', 'exchanged', 'refunded'], reasons, today }: DriftSettings,
  ripeAfterDays: number,
): Uint8Array {
  const counts = WAYS_BACK.map((way) => ways.includes(way));
  return Uint8Array.from(ripe, (at) => {
    const way = wayAt(columns, at, reasons, today);
    return way >= 0 && counts[way] && afterDaysAt(columns, at) <= ripeAfterDays ? 1 : 0;
  });
}

function driftSentence(alarms: readonly DriftAlarm[], followed: number): string {
  const last = alarms.at(-1);
  if (followed === 0) return 'No pair has ripened since the baseline.';
  if (last === undefined) return `No drift in the ${followed} pairs since the baseline.`;
  return `After ${last.afterPairs} of ${followed} pairs since the baseline the line was crossed: more pairs come back than at the baseline.`;
}

/**
 * The sum's steps and line for a baseline: the bad rate is the one near twice the good rate at which a pair back weighs
 * a whole number of pairs not back; the line is the lowest with at least the asked number of pairs between false
 * alarms. The baseline is itself only an estimate, and a rate that was low by luck would cry wolf later: false alarms
 * are therefore averaged over the rates that the baseline leaves possible (Jeffreys), not taken at its middle.
 * Source: Reynolds, Stoumbos, J Qual Technol 1999 (from memory); the averaging is our own choice.
 */
export function driftChart(baseline: Group, pairsBetweenFalseAlarms: number): DriftChart {
  const rateGood = baseline.events / baseline.n;
  const doubled = Math.min(0.98, 2 * rateGood);
  const { event, noEvent } = bernoulliWeights(rateGood, doubled);
  const stepsUp = Math.max(1, Math.round(-event / noEvent));
  const lengthAt = (rate: number, alarmAtSteps: number): number =>
    averageRunLength(
      { stepEvent: stepsUp, stepNoEvent: -1, floor: 0, start: 0, alarmAtOrAbove: alarmAtSteps },
      rate,
      // Five digits are more than a caption says.
      1e9,
    );
  const possible = Array.from({ length: BASELINE_RATES }, (_, k) =>
    betaQuantile((k + 0.5) / BASELINE_RATES, baseline.events + 0.5, baseline.n - baseline.events + 0.5),
  );
  const between = (alarmAtSteps: number): number =>
    BASELINE_RATES / possible.reduce((sum, rate) => sum + 1 / lengthAt(rate, alarmAtSteps), 0);
  const alarmAtSteps = lowestLine(between, pairsBetweenFalseAlarms);
  return {
    rateGood,
    stepsUp,
    alarmAtSteps,
    pairsBetweenFalseAlarms: between(alarmAtSteps),
    pairsToNoticeDoubling: lengthAt(doubled, alarmAtSteps),
  };
}

/**
 * The lowest whole line that `between` puts at or above `asked`. Its logarithm rises almost evenly with the line, so the
 * next guess is read off between the last two, and halved in turn where that would creep.
 */
function lowestLine(between: (line: number) => number, asked: number): number {
  const above = (line: number): number => Math.log(between(line) / asked);
  let low = { line: 1, is: above(1) };
  if (low.is >= 0) return 1;
  let high = { line: 2, is: above(2) };
  while (high.is < 0) {
    low = high;
    high = { line: low.line * 2, is: above(low.line * 2) };
  }
  for (let step = 0; high.line - low.line > 1; step += 1) {
    const share = step % 3 === 2 ? 0.5 : -low.is / (high.is - low.is);
    const guess = Math.round(low.line + share * (high.line - low.line));
    const line = Math.min(high.line - 1, Math.max(low.line + 1, guess));
    const found = { line, is: above(line) };
    if (found.is < 0) low = found;
    else high = found;
  }
  return high.line;
}

/**
 * Expected risk by kind of work, first wearer and add band, from the baseline's own pairs, each kind drawn towards the
 * baseline's rate by a prior worth 20 pairs. Our own choice.
 */
function riskByMix(columns: PairColumns, baseline: Int32Array, isBack: Uint8Array): (at: number) => number {
  const wearers = columns.groups('firstWearer');
  const adds = columns.groups('addBand');
  const kindOf = (at: number): number => wearers.codes[at]! * adds.names.length + adds.codes[at]!;
  const kinds = new Map<number, { n: number; events: number }>();
  let all = 0;
  baseline.forEach((at, k) => {
    const kind = kinds.get(kindOf(at)) ?? { n: 0, events: 0 };
    kinds.set(kindOf(at), { n: kind.n + 1, events: kind.events + isBack[k]! });
    all += isBack[k]!;
  });
  const rate = all / baseline.length;
  return (at) => {
    const kind = kinds.get(kindOf(at)) ?? { n: 0, events: 0 };
    return (kind.events + 20 * rate) / (kind.n + 20);
  };
}

function sizeOfBaseline(
  columns: PairColumns,
  ripe: Int32Array,
  untilDay: number | undefined,
  ripeAfterDays: number,
): number {
  if (untilDay === undefined) {
    const until = columns.handedOverDay[ripe[0] ?? 0]! + BASELINE_DAYS;
    const early = ripe.filter((at) => columns.handedOverDay[at]! < until).length;
    return Math.min(ripe.length, Math.max(BASELINE_PAIRS, early));
  }
  return ripe.filter((at) => columns.handedOverDay[at]! + ripeAfterDays <= untilDay).length;
}

function follow(
  columns: PairColumns,
  after: Int32Array,
  isBack: Uint8Array,
  ripeAfterDays: number,
  chart: DriftChart,
  riskOf: ((at: number) => number) | undefined,
): { readonly followed: Followed; readonly alarms: DriftAlarm[] } {
  // One step in log-likelihood units, so that weights by risk can be held against the same line.
  const step = Math.log(2) / chart.stepsUp;
  const weights = Float64Array.from(after, (at, k) => {
    if (riskOf === undefined) return isBack[k] === 1 ? chart.stepsUp : -1;
    return riskAdjustedWeight(riskOf(at), isBack[k] === 1, 2) / step;
  });
  const { path, alarms } = cumulativeSum(weights, chart.alarmAtSteps, true);
  const point = (k: number): DriftPoint => ({
    pairId: columns.pairId(after[k]!),
    ripeOnDay: columns.handedOverDay[after[k]!]! + ripeAfterDays,
    back: isBack[k] === 1,
    evidence: path[k]! / chart.alarmAtSteps,
  });
  return {
    followed: {
      count: after.length,
      evidence: Float64Array.from(path, (sum) => sum / chart.alarmAtSteps),
      point,
    },
    alarms: alarms.map((afterPairs) => {
      const { pairId, ripeOnDay } = point(afterPairs - 1);
      return { pairId, onDay: ripeOnDay, afterPairs };
    }),
  };
}

/** Pairs handed over per day over the last 90 days of hand-overs that are ripe. */
function pairsPerDay({ handedOverDay }: PairColumns, ripe: Int32Array): number {
  const last = handedOverDay[ripe.at(-1)!]!;
  const from = Math.max(handedOverDay[ripe[0]!]!, last - 89);
  return ripe.filter((at) => handedOverDay[at]! >= from).length / (last - from + 1);
}

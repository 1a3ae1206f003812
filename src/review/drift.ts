import { betaQuantile } from './betaDistribution.ts';
import { bernoulliWeights, cumulativeSum, riskAdjustedWeight } from './cumulativeSum.ts';
import { wilson } from './oneRate.ts';
import { cameBack, type FinishedPair, type ReasonsCounted, type WayBack } from './pairs.ts';
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
   * When absent: the first 200 pairs to ripen.
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
      readonly points: readonly DriftPoint[];
      readonly alarms: readonly DriftAlarm[];
      readonly daysToNoticeDoubling: number;
      readonly caption: string;
      readonly sentence: string;
    };

const BASELINE_PAIRS = 200;
/** A baseline of fewer pairs, or of no event at all, is no baseline. Our own choice. */
const FEWEST_BASELINE = 100;
const FALSE_ALARM_EVERY = 1500;
/** Equally likely rates that stand for what the baseline leaves possible. */
const BASELINE_RATES = 24;

/**
 * Whether the rate drifts: a log-likelihood-ratio sum over pairs in the order in which they ripen, each once, against a
 * frozen baseline. Steps are whole, so the pairs between false alarms and the pairs until a doubling is noticed are
 * exact (Markov chain) and stand in the caption. With `weighByMix` every pair is weighed by the risk of its kind (odds
 * ratio 2), and the caption holds for the mean risk.
 */
export function drift(pairs: readonly FinishedPair[], settings: DriftSettings): Drift {
  const ripeAfterDays = settings.ripeAfterDays ?? RIPE_AFTER_DAYS;
  const ways = new Set<WayBack>(settings.ways ?? ['remade', 'exchanged', 'refunded']);
  const ripe = pairs
    .filter(({ handedOverDay }) => handedOverDay + ripeAfterDays <= settings.today)
    .sort((a, b) => a.handedOverDay - b.handedOverDay || (a.pairId < b.pairId ? -1 : 1));
  const isBack = ripe.map((pair) => {
    const back = cameBack(pair, settings.reasons, settings.today);
    return back !== null && back.afterDays <= ripeAfterDays && ways.has(back.way);
  });
  const baselineSize = sizeOfBaseline(ripe, settings.baselineUntilDay, ripeAfterDays);
  const events = isBack.slice(0, baselineSize).filter(Boolean).length;
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
  const riskOf = settings.weighByMix === true ? riskByMix(ripe.slice(0, baselineSize), isBack) : undefined;
  const after = ripe.slice(baselineSize);
  const backAfter = isBack.slice(baselineSize);
  const { points, alarms } = follow(after, backAfter, ripeAfterDays, chart, riskOf);
  const perDay = pairsPerDay(ripe);
  const daysToNoticeDoubling = Math.round(chart.pairsToNoticeDoubling / perDay + ripeAfterDays);
  const baseline: Figure = {
    value: chart.rateGood,
    trace: {
      method: `baseline: the first ${baselineSize} pairs to ripen, ${settings.reasons}; Wilson 95 %`,
      x: events,
      n: baselineSize,
      interval: wilson(events, baselineSize),
      pairIds: ripe.slice(0, baselineSize).flatMap((pair, at) => (isBack[at] ? [pair.pairId] : [])),
      amongPairIds: ripe.slice(0, baselineSize).map(({ pairId }) => pairId),
    },
  };
  return {
    kind: 'chart',
    baseline,
    chart,
    points,
    alarms,
    daysToNoticeDoubling,
    caption:
      `Baseline ${countInWords(events, baselineSize, baseline.trace.interval!)}, ${settings.reasons}. ` +
      `At an unchanged rate the line is crossed by luck once in about ${about(chart.pairsBetweenFalseAlarms)} pairs, what the baseline leaves open counted in. ` +
      `A doubling to ${percent(2 * chart.rateGood)} % is noticed after about ${about(chart.pairsToNoticeDoubling)} pairs, ` +
      `here about ${daysToNoticeDoubling} days with the ${ripeAfterDays} days until a pair is ripe.` +
      (riskOf === undefined
        ? ''
        : ' Each pair is weighed by the risk of its kind; these figures hold for the mean risk.'),
    sentence: driftSentence(alarms, after.length),
  };
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
    );
  const possible = Array.from({ length: BASELINE_RATES }, (_, k) =>
    betaQuantile((k + 0.5) / BASELINE_RATES, baseline.events + 0.5, baseline.n - baseline.events + 0.5),
  );
  const between = (alarmAtSteps: number): number =>
    BASELINE_RATES / possible.reduce((sum, rate) => sum + 1 / lengthAt(rate, alarmAtSteps), 0);
  let low = 1;
  let high = 2;
  while (between(high) < pairsBetweenFalseAlarms) {
    low = high;
    high *= 2;
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (between(middle) < pairsBetweenFalseAlarms) low = middle;
    else high = middle;
  }
  return {
    rateGood,
    stepsUp,
    alarmAtSteps: high,
    pairsBetweenFalseAlarms: between(high),
    pairsToNoticeDoubling: lengthAt(doubled, high),
  };
}

/**
 * Expected risk by kind of work, first wearer and add band, from the baseline's own pairs, each kind drawn towards the
 * baseline's rate by a prior worth 20 pairs. Our own choice.
 */
function riskByMix(
  baseline: readonly FinishedPair[],
  isBack: readonly boolean[],
): (pair: FinishedPair) => number {
  const rate = baseline.filter((_, at) => isBack[at]).length / baseline.length;
  const kinds = new Map<string, { n: number; events: number }>();
  baseline.forEach((pair, at) => {
    const kind = kinds.get(kindOf(pair)) ?? { n: 0, events: 0 };
    kinds.set(kindOf(pair), { n: kind.n + 1, events: kind.events + (isBack[at] ? 1 : 0) });
  });
  return (pair) => {
    const kind = kinds.get(kindOf(pair)) ?? { n: 0, events: 0 };
    return (kind.events + 20 * rate) / (kind.n + 20);
  };
}

const kindOf = (pair: FinishedPair): string => `${pair.firstWearer} ${pair.addBand}`;

function sizeOfBaseline(
  ripe: readonly FinishedPair[],
  untilDay: number | undefined,
  ripeAfterDays: number,
): number {
  if (untilDay === undefined) return Math.min(ripe.length, BASELINE_PAIRS);
  return ripe.filter(({ handedOverDay }) => handedOverDay + ripeAfterDays <= untilDay).length;
}

function follow(
  pairs: readonly FinishedPair[],
  isBack: readonly boolean[],
  ripeAfterDays: number,
  chart: DriftChart,
  riskOf: ((pair: FinishedPair) => number) | undefined,
): { readonly points: DriftPoint[]; readonly alarms: DriftAlarm[] } {
  // One step in log-likelihood units, so that weights by risk can be held against the same line.
  const step = Math.log(2) / chart.stepsUp;
  const weights = pairs.map((pair, at) => {
    if (riskOf === undefined) return isBack[at] ? chart.stepsUp : -1;
    return riskAdjustedWeight(riskOf(pair), isBack[at]!, 2) / step;
  });
  const { path, alarms } = cumulativeSum(weights, chart.alarmAtSteps, true);
  const points = pairs.map(({ pairId, handedOverDay }, at) => ({
    pairId,
    ripeOnDay: handedOverDay + ripeAfterDays,
    back: isBack[at]!,
    evidence: path[at]! / chart.alarmAtSteps,
  }));
  return {
    points,
    alarms: alarms.map((afterPairs) => {
      const { pairId, ripeOnDay } = points[afterPairs - 1]!;
      return { pairId, onDay: ripeOnDay, afterPairs };
    }),
  };
}

/** Pairs handed over per day over the last 90 days of hand-overs that are ripe. */
function pairsPerDay(ripe: readonly FinishedPair[]): number {
  const last = ripe.at(-1)!.handedOverDay;
  const from = Math.max(ripe[0]!.handedOverDay, last - 89);
  return ripe.filter(({ handedOverDay }) => handedOverDay >= from).length / (last - from + 1);
}

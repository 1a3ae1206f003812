import { inColumns, type PairColumns, type PairsGiven } from './columns.ts';
import { fisherExact } from './fisherExact.ts';
import { type LogRank, logRank } from './logRank.ts';
import type { Interval } from './oneRate.ts';
import type { Grouping } from './pairs.ts';
import { pairsInColumns, type RateSettings } from './ripePairs.ts';
import { pairsPerArm } from './sampleSize.ts';
import { adaptationOfSome, type TimeToAdapt, watchAt } from './timeToAdapt.ts';
import type { Figure } from './trace.ts';
import { differenceOfRates } from './twoRates.ts';
import { about, percent } from './words.ts';

export type TwoCompared = {
  readonly first: string;
  readonly second: string;
  /** Rate of the first less rate of the second. */
  readonly difference: Figure & { readonly interval: Interval };
  readonly pMid: number;
  /** More ripe pairs of each that would be needed to know; null when it is known already. */
  readonly morePairsNeeded: {
    readonly first: number;
    readonly second: number;
    readonly toSee: string;
  } | null;
  readonly sentence: string;
  /** Speed of settling: compares how fast it comes to those still waiting, not the final shares. */
  readonly settlingSpeed: LogRank | null;
  readonly adaptation: readonly [TimeToAdapt, TimeToAdapt];
  readonly looks: string;
};

/** Fewer settled in either group, and the comparison of speed is left out. Our own choice. */
const FEWEST_SETTLED = 10;

/**
 * Two groups side by side: difference of their return rates on ripe pairs with its hybrid score interval, and how many
 * more pairs would be needed to know (80 % power at the rates seen; at equal rates, to see a doubling of them). `looks`
 * is how many such comparisons the two were picked from; the interval is widened for it (Bonferroni).
 */
export function compareTwo(
  pairs: PairsGiven,
  by: Grouping,
  first: string,
  second: string,
  settings: RateSettings,
  looks = 1,
): TwoCompared {
  const columns = inColumns(pairs);
  const counted = pairsInColumns(columns, settings);
  const { names, codes } = columns.groups(by);
  const side = (name: string) => {
    const code = names.indexOf(name);
    const all =
      code < 0 ? new Int32Array() : Int32Array.from(codes.keys()).filter((at) => codes[at] === code);
    const ripe = all.filter((at) => counted.ripe[at] === 1);
    const back = ripe.filter((at) => counted.back[at] === 1);
    return { name, all, ripe, x: back.length, n: ripe.length, back };
  };
  const one = side(first);
  const two = side(second);
  const confidence = 1 - 0.05 / Math.max(1, looks);
  const nothing = one.n === 0 || two.n === 0;
  const found = nothing
    ? { difference: 0, low: -1, high: 1 }
    : differenceOfRates(one.x, one.n, two.x, two.n, confidence);
  const interval = { low: found.low, high: found.high };
  const fisher = nothing ? null : fisherExact(one.x, one.n, two.x, two.n);
  const known = interval.low > 0 || interval.high < 0;
  const more = known || nothing ? null : needed(one, two);
  const looksWords =
    looks > 1
      ? `picked from ${looks} comparisons: the interval is widened to ${(confidence * 100).toFixed(1)} %`
      : 'one comparison';
  return {
    first,
    second,
    difference: {
      value: found.difference,
      interval,
      trace: {
        method: `difference of two rates, hybrid score (Newcombe 10), ${(confidence * 100).toFixed(1)} %, ripe pairs, ${settings.reasons}; ${looksWords}`,
        x: one.x + two.x,
        n: one.n + two.n,
        interval,
        pairIds: [...one.back, ...two.back].map(columns.pairId),
        amongPairIds: [...one.ripe, ...two.ripe].map(columns.pairId),
      },
    },
    pMid: fisher === null ? 1 : Math.min(1, 2 * Math.min(fisher.midPGreater, fisher.midPLess)),
    morePairsNeeded: more,
    sentence: nothing
      ? `${first} and ${second}: no ripe pairs to compare.`
      : sentenceOf(one, two, found.difference, interval, more),
    settlingSpeed: speed(columns, one.all, two.all, settings.today),
    adaptation: [
      adaptationOfSome(first, columns, one.all, settings.today),
      adaptationOfSome(second, columns, two.all, settings.today),
    ],
    looks: looksWords,
  };
}

type Side = { readonly name: string; readonly x: number; readonly n: number };

function needed(one: Side, two: Side): { first: number; second: number; toSee: string } {
  const p1 = one.x / one.n;
  const p2 = two.x / two.n;
  const pooled = Math.max(one.x + two.x, 0.5) / (one.n + two.n);
  // Nearly equal rates would ask for pairs without end; a doubling is what is worth knowing then.
  const close = Math.abs(p1 - p2) < pooled / 4;
  const [a, b] = close ? [pooled, Math.min(0.99, 2 * pooled)] : [p1, p2];
  const perArm = Math.ceil(pairsPerArm(a, b));
  return {
    first: Math.max(0, perArm - one.n),
    second: Math.max(0, perArm - two.n),
    toSee: close ? `a doubling from ${percent(pooled)} %` : 'a difference as large as this one',
  };
}

function sentenceOf(
  one: Side,
  two: Side,
  difference: number,
  { low, high }: Interval,
  more: { first: number; second: number; toSee: string } | null,
): string {
  const points = (value: number): string => (value * 100).toFixed(1);
  const counts = `${one.name} ${one.x} of ${one.n}, ${two.name} ${two.x} of ${two.n}`;
  const gap = `${points(difference)} points (${points(low)} to ${points(high)})`;
  if (more === null) return `${counts}: ${gap}, more than luck.`;
  const ask =
    more.first + more.second === 0
      ? 'the numbers are there to see it, and none was seen'
      : `to see ${more.toSee} it takes about ${about(more.first)} more pairs of ${one.name} and ${about(more.second)} of ${two.name}`;
  return `${counts}: ${gap}, no difference shown; ${ask}.`;
}

function speed(columns: PairColumns, first: Int32Array, second: Int32Array, today: number): LogRank | null {
  const group = (some: Int32Array) => {
    const watches = Array.from(some)
      .filter((at) => columns.handedOverDay[at]! <= today)
      .map((at) => watchAt(columns, at, today));
    return { days: watches.map(({ day }) => day), seen: watches.map(({ end }) => end === 0) };
  };
  const one = group(first);
  const two = group(second);
  if ([one, two].some(({ seen }) => seen.filter(Boolean).length < FEWEST_SETTLED)) return null;
  return logRank(one, two);
}

import { twoSidedZ } from './normalDistribution.ts';
import type { Interval } from './oneRate.ts';
import type { DayTally } from './watched.ts';

export type EndStep = {
  readonly day: number;
  readonly atRisk: number;
  /** Share that has ended in each way by this day; with `waiting` they add up to 1. */
  readonly shares: readonly number[];
  readonly errors: readonly number[];
  readonly waiting: number;
};

/**
 * Share ended in each way by each day when the ways exclude one another: I_k(t) = Σ S(t−) d_k/n, S over all ends.
 * Counting the other ends as merely lost from sight would overstate every share. Error by the delta method:
 * Σ (I(t)−I(tⱼ))² d/(n(n−d)) + S(tⱼ−)² (n−d_k) d_k/n³ − 2 (I(t)−I(tⱼ)) S(tⱼ−) d_k/n², kept as running sums.
 * Source: Aalen, Johansen, Scand J Stat 1978;5:141-150; error: Marubini, Valsecchi 1995 (from memory), equal to the
 * R package survival 3.5-3 on the check values.
 */
export function aalenJohansen(tally: readonly DayTally[]): EndStep[] {
  const ways = tally[0]?.ends.length ?? 0;
  const share = new Array<number>(ways).fill(0);
  // Running sums of a, a I, a I², b, c, c I over the steps so far, for each way.
  const sums = Array.from({ length: ways }, () => ({ a: 0, aI: 0, aII: 0, b: 0, c: 0, cI: 0 }));
  const steps: EndStep[] = [];
  let waiting = 1;
  for (const { day, atRisk: n, ends, allEnds: d } of tally) {
    if (d === 0) continue;
    const errors = new Array<number>(ways);
    for (let k = 0; k < ways; k += 1) {
      const dk = ends[k]!;
      const sum = sums[k]!;
      share[k]! += (waiting * dk) / n;
      const here = share[k]!;
      // When all who are left end at once nothing can follow, and the term has no bearing on any later share.
      const a = d === n ? 0 : d / (n * (n - d));
      const c = (waiting * dk) / (n * n);
      sum.a += a;
      sum.aI += a * here;
      sum.aII += a * here * here;
      sum.b += (waiting * waiting * (n - dk) * dk) / (n * n * n);
      sum.c += c;
      sum.cI += c * here;
      const variance =
        here * here * sum.a - 2 * here * sum.aI + sum.aII + sum.b - 2 * (here * sum.c - sum.cI);
      errors[k] = Math.sqrt(Math.max(0, variance));
    }
    waiting *= 1 - d / n;
    steps.push({ day, atRisk: n, shares: [...share], errors, waiting });
  }
  return steps;
}

/**
 * Interval of an ended share I with error e, log-log on 1 − I, so that it stays inside [0, 1].
 * At a share of 0 it says nothing; use the interval for "none of n" then.
 */
export function shareInterval(share: number, error: number, confidence = 0.95): Interval {
  const rest = 1 - share;
  if (share <= 0 || rest <= 0 || error === 0) return { low: share, high: share };
  const reach = Math.exp((twoSidedZ(confidence) * error) / (rest * Math.abs(Math.log(rest))));
  return { low: 1 - rest ** (1 / reach), high: 1 - rest ** reach };
}

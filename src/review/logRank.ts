import { chiSquareTail } from './normalDistribution.ts';

export type WatchedGroup = {
  readonly days: readonly number[];
  /** True when the end that is compared was seen; every other end counts as leaving the watch. */
  readonly seen: readonly boolean[];
};

export type LogRank = {
  readonly observed1: number;
  readonly expected1: number;
  readonly chiSquare: number;
  readonly p: number;
};

/**
 * Log-rank test of two groups: (O₁ − E₁)²/V, E = d n₁/n, V = d (n₁/n)(n₂/n)(n − d)/(n − 1). With competing ends it
 * compares how fast the end comes among those still waiting, not the final shares.
 * Source: Mantel 1966; R package survival, survdiff (from memory).
 */
export function logRank(first: WatchedGroup, second: WatchedGroup): LogRank {
  const rows = [
    ...first.days.map((day, at) => ({ day, seen: first.seen[at]!, isFirst: true })),
    ...second.days.map((day, at) => ({ day, seen: second.seen[at]!, isFirst: false })),
  ].sort((a, b) => a.day - b.day);
  let n = rows.length;
  let n1 = first.days.length;
  let observed1 = 0;
  let expected1 = 0;
  let variance = 0;
  for (let at = 0; at < rows.length; ) {
    const day = rows[at]!.day;
    let leaving = 0;
    let leaving1 = 0;
    let ends = 0;
    for (; at < rows.length && rows[at]!.day === day; at += 1) {
      const row = rows[at]!;
      leaving += 1;
      if (row.isFirst) leaving1 += 1;
      if (!row.seen) continue;
      ends += 1;
      if (row.isFirst) observed1 += 1;
    }
    expected1 += (ends * n1) / n;
    if (n > 1) variance += (ends * n1 * (n - n1) * (n - ends)) / (n * n * (n - 1));
    n -= leaving;
    n1 -= leaving1;
  }
  const chiSquare = variance === 0 ? 0 : (observed1 - expected1) ** 2 / variance;
  return { observed1, expected1, chiSquare, p: variance === 0 ? 1 : chiSquareTail(chiSquare, 1) };
}

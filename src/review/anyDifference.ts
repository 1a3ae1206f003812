import { lnChoose } from './gamma.ts';
import { chiSquareTail } from './normalDistribution.ts';

/** More tables than this are not gone through one by one; the approximation stands alone then, and the page says so. */
const MOST_TABLES = 3_000_000;

export type AnyDifference = {
  readonly chiSquare: number;
  readonly degrees: number;
  readonly pChiSquare: number;
  /** Absent when the tables are too many to go through. */
  readonly pExact: number | null;
  /** Expected counts below 1: the chi-square value is out of its range. */
  readonly approximationDoubtful: boolean;
};

/**
 * One overall test of x of n for several groups: Pearson's chi-square, and the exact test that sums all tables of
 * the same margins no more probable than the one seen (relative slack 1e-7). Groups without pairs are left out.
 * Source: R Core Team, R stats manual, prop.test and fisher.test (from memory).
 */
export function anyDifference(
  events: readonly number[],
  sizes: readonly number[],
  mostTables = MOST_TABLES,
): AnyDifference {
  const groups = sizes.map((n, at) => ({ n, x: events[at]! })).filter(({ n }) => n > 0);
  const n = groups.reduce((sum, group) => sum + group.n, 0);
  const x = groups.reduce((sum, group) => sum + group.x, 0);
  const rate = n === 0 ? 0 : x / n;
  const degrees = Math.max(0, groups.length - 1);
  if (x === 0 || x === n || degrees === 0) {
    return { chiSquare: 0, degrees, pChiSquare: 1, pExact: 1, approximationDoubtful: true };
  }
  const chiSquare = groups.reduce(
    (sum, group) => sum + (group.x - group.n * rate) ** 2 / (group.n * rate * (1 - rate)),
    0,
  );
  return {
    chiSquare,
    degrees,
    pChiSquare: chiSquareTail(chiSquare, degrees),
    pExact: exactP(groups, x, n, mostTables),
    approximationDoubtful: groups.some((group) => group.n * Math.min(rate, 1 - rate) < 1),
  };
}

function exactP(
  groups: readonly { n: number; x: number }[],
  x: number,
  n: number,
  mostTables: number,
): number | null {
  if (lnChoose(x + groups.length - 1, groups.length - 1) > Math.log(mostTables)) return null;
  const lnAll = lnChoose(n, x);
  const lnSeen = groups.reduce((sum, group) => sum + lnChoose(group.n, group.x), -lnAll);
  const lnLimit = lnSeen + Math.log1p(1e-7);
  // The roomiest groups last: fewer dead ends.
  const sizes = groups.map((group) => group.n).sort((a, b) => a - b);
  const lnWays = sizes.map((size) =>
    Array.from({ length: Math.min(size, x) + 1 }, (_, k) => lnChoose(size, k)),
  );
  let p = 0;
  const fill = (at: number, left: number, lnChance: number): void => {
    const ways = lnWays[at]!;
    if (at === sizes.length - 1) {
      const last = ways[left];
      if (last === undefined) return;
      if (lnChance + last <= lnLimit) p += Math.exp(lnChance + last);
      return;
    }
    for (let k = 0; k < ways.length && k <= left; k += 1) fill(at + 1, left - k, lnChance + ways[k]!);
  };
  fill(0, x, -lnAll);
  return Math.min(1, p);
}

import { fisherExact } from './fisherExact.ts';
import { ALARM_TAIL, ALERT_TAIL, leaveOneOutRates, overDispersion, placeInFunnel } from './funnelLimits.ts';
import { adjustHolm } from './manyLooks.ts';
import { normalCdf, normalQuantile } from './normalDistribution.ts';
import type { Group } from './shrinkage.ts';
import { percent } from './words.ts';

export type Verdict = 'too few to say' | 'like the rest' | 'watch' | 'worse than the rest' | 'better';

/** Under this many ripe pairs nothing is said of a group. Our own choice. */
export const FEWEST_RIPE = 20;

export type Judgement = {
  readonly verdict: Verdict;
  readonly p: number | null;
  readonly pHolm: number | null;
};

export type Judged = {
  readonly groups: readonly Judgement[];
  /** Spread among the groups over what chance gives; null with under 20 groups to judge. */
  readonly phi: number | null;
  /** How many looks were taken, and how they are guarded. */
  readonly looks: string;
};

/**
 * Words for every group's count against all other groups together. "worse than the rest" and "better": the exact
 * comparison of the two counts (mid-p) leaves at most 0.1 % to luck; it knows that the rest may be few too. Of more than
 * fifty groups each is held to less than that, so that 95 of 100 shops whose groups are all alike still hear of none.
 * "watch": at most 2.5 %, by that comparison and by the binomial tail at the rate of the rest. Low between the bands counts as
 * "like the rest". From 20 groups on the tails are widened when all groups together spread more than chance gives.
 * Mid-p, because the full tail of small counts is about half as likely as it says and misses what it should find.
 * Source: bands after Spiegelhalter, Stat Med 2005;24:1185-1202; the words and the limit of 20 are our own choice.
 */
export function judgeGroups(groups: readonly Group[]): Judged {
  const events = groups.reduce((sum, group) => sum + group.events, 0);
  const n = groups.reduce((sum, group) => sum + group.n, 0);
  const judgeable = groups.map((group) => group.n >= FEWEST_RIPE && n - group.n >= FEWEST_RIPE);
  const k = judgeable.filter(Boolean).length;
  const phi = spreadOf(
    groups.filter((_, at) => judgeable[at]),
    n === 0 ? 0 : events / n,
  );
  const widen = phi?.inflateLimits ? Math.sqrt(phi.phi) : 1;
  const centres = leaveOneOutRates(groups);
  const alarm = Math.min(ALARM_TAIL, 1 - 0.95 ** (1 / Math.max(1, k)));
  const compared = groups.map((group, at) => {
    if (!judgeable[at]) return null;
    const { midPGreater, midPLess } = fisherExact(group.events, group.n, events - group.events, n - group.n);
    const above = widened(midPGreater, widen);
    const below = widened(midPLess, widen);
    const tail = widened(placeInFunnel(group, centres[at]!).upperTail, widen);
    return {
      verdict: verdictOf(above, below, tail, alarm),
      p: Math.min(1, 2 * Math.min(midPGreater, midPLess)),
    };
  });
  const holm = adjustHolm(compared.flatMap((one) => (one === null ? [] : [one.p])));
  let next = 0;
  return {
    groups: compared.map((one): Judgement => {
      if (one === null) return { verdict: 'too few to say', p: null, pHolm: null };
      next += 1;
      return { ...one, pHolm: holm[next - 1]! };
    }),
    phi: phi?.phi ?? null,
    looks:
      k < 2
        ? 'nothing to compare yet'
        : `${k} groups looked at; of ${k} alike, one would lie above the 95 % band by luck ${percent(1 - 0.975 ** k)} times in 100, above the 99.8 % band ${percent(1 - 0.999 ** k)}; p adjusted by Holm`,
  };
}

/** Few groups cannot tell spread among all from one that stands out, so limits are widened only from 20 on. */
function spreadOf(groups: readonly Group[], rate: number) {
  return groups.length >= 20 && rate > 0 && rate < 1 ? overDispersion(groups, rate) : null;
}

function verdictOf(above: number, below: number, tail: number, alarm: number): Verdict {
  if (above <= alarm) return 'worse than the rest';
  if (above <= ALERT_TAIL && tail <= ALERT_TAIL) return 'watch';
  return below <= alarm ? 'better' : 'like the rest';
}

/** The tail that is left when the distance from the centre is divided by `factor`. */
function widened(tail: number, factor: number): number {
  if (factor === 1 || tail <= 0 || tail >= 1) return tail;
  return normalCdf(normalQuantile(tail) / factor);
}

import { binomialLowerTail, binomialPmf, binomialUpperTail } from './binomial.ts';
import { normalQuantile } from './normalDistribution.ts';
import type { Group } from './shrinkage.ts';

/** Tail areas of the two bands: 99.8 % (alarm) and 95 % (alert). Our own choice, as in Spiegelhalter 2005. */
export const ALARM_TAIL = 0.001;
export const ALERT_TAIL = 0.025;

/**
 * Binomial limit for the picture, made smooth between whole counts: r the smallest count with F(r) ≥ p,
 * a = (F(r) − p)/f(r), limit = (r − a)/n. Falls below 0 when F(0) > p: draw it at 0. The picture's line only; who lies
 * outside is decided by the tail itself. Source: Spiegelhalter, Stat Med 2005;24:1185-1202, appendix (from memory).
 */
export function exactFunnelLimit(centre: number, n: number, p: number): number {
  let low = -1;
  let high = n;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (binomialLowerTail(middle, n, centre) >= p) high = middle;
    else low = middle;
  }
  const a = (binomialLowerTail(high, n, centre) - p) / binomialPmf(high, n, centre);
  return (high - a) / n;
}

/** Normal limit centre + z √(centre (1 − centre)/n), not cut; too low for small counts. Source: as `exactFunnelLimit`. */
export function normalFunnelLimit(centre: number, n: number, p: number): number {
  return centre + normalQuantile(p) * Math.sqrt((centre * (1 - centre)) / n);
}

export type Place = 'above 99.8' | 'above 95' | 'inside' | 'below 95' | 'below 99.8';

/** Where x of n lies against a centre, by the exact binomial tails P(X ≥ x) and P(X ≤ x). */
export function placeInFunnel(
  { events, n }: Group,
  centre: number,
): { readonly place: Place; readonly upperTail: number; readonly lowerTail: number } {
  const upperTail = binomialUpperTail(events, n, centre);
  const lowerTail = binomialLowerTail(events, n, centre);
  const place: Place =
    upperTail <= ALARM_TAIL
      ? 'above 99.8'
      : upperTail <= ALERT_TAIL
        ? 'above 95'
        : lowerTail <= ALARM_TAIL
          ? 'below 99.8'
          : lowerTail <= ALERT_TAIL
            ? 'below 95'
            : 'inside';
  return { place, upperTail, lowerTail };
}

/** The rate of all the other groups together: a group must not be held against a total that contains it. */
export function leaveOneOutRates(groups: readonly Group[]): number[] {
  const events = groups.reduce((sum, group) => sum + group.events, 0);
  const n = groups.reduce((sum, group) => sum + group.n, 0);
  return groups.map((group) => (n === group.n ? 0 : (events - group.events) / (n - group.n)));
}

export type OverDispersion = {
  readonly z: readonly number[];
  readonly phi: number;
  readonly inflateLimits: boolean;
};

/**
 * How much more the groups differ than chance would have it: φ = mean z², z = (p − centre)/√(centre (1 − centre)/n);
 * the limits are widened by √φ only when φ > 1 + 2√(2/k). From 20 groups on the outermost 10 % at each end are pulled
 * in to the next value. Source: Spiegelhalter, Stat Med 2005;24:1185-1202 (from memory).
 */
export function overDispersion(groups: readonly Group[], centre: number): OverDispersion {
  const z = groups.map(({ events, n }) => (events / n - centre) / Math.sqrt((centre * (1 - centre)) / n));
  const used = z.length >= 20 ? winsorised(z, 0.1) : z;
  const phi = used.reduce((sum, value) => sum + value * value, 0) / used.length;
  return { z, phi, inflateLimits: phi > 1 + 2 * Math.sqrt(2 / z.length) };
}

function winsorised(values: readonly number[], share: number): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  const cut = Math.floor(values.length * share);
  const low = sorted[cut]!;
  const high = sorted[sorted.length - 1 - cut]!;
  return values.map((value) => Math.min(high, Math.max(low, value)));
}

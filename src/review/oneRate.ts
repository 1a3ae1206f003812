import { betaQuantile } from './betaDistribution.ts';
import { twoSidedZ } from './normalDistribution.ts';

export type Interval = { readonly low: number; readonly high: number };

/**
 * Wilson score interval of x events in n: centre (p + z²/2n)/(1 + z²/n), half width z √(p(1−p)/n + z²/4n²)/(1 + z²/n);
 * exactly 0 below at x = 0 and exactly 1 above at x = n; (0, 1) when nothing was counted. The right interval for small
 * counts: its coverage is near the stated one on average. Source: Newcombe, Stat Med 1998;17:857-872, method 3.
 */
export function wilson(events: number, n: number, confidence = 0.95): Interval {
  if (n === 0) return { low: 0, high: 1 };
  const z = twoSidedZ(confidence);
  const rate = events / n;
  const shrink = 1 + (z * z) / n;
  const centre = (rate + (z * z) / (2 * n)) / shrink;
  const half = (z * Math.sqrt((rate * (1 - rate)) / n + (z * z) / (4 * n * n))) / shrink;
  return {
    low: events === 0 ? 0 : Math.max(0, centre - half),
    high: events === n ? 1 : Math.min(1, centre + half),
  };
}

/**
 * Jeffreys interval: equal tails of Beta(x + ½, n − x + ½), with 0 below at x = 0 and 1 above at x = n.
 * Source: Brown, Cai, DasGupta, Stat Sci 2001;16:101-133 (end rule from memory).
 */
export function jeffreys(events: number, n: number, confidence = 0.95): Interval {
  const tail = (1 - confidence) / 2;
  return {
    low: events === 0 ? 0 : betaQuantile(tail, events + 0.5, n - events + 0.5),
    high: events === n ? 1 : betaQuantile(1 - tail, events + 0.5, n - events + 0.5),
  };
}

/**
 * Clopper-Pearson interval, for a promise of the kind "at most": it covers at least as often as it says.
 * low = Beta⁻¹(α/2; x, n − x + 1), high = Beta⁻¹(1 − α/2; x + 1, n − x).
 * Source: Newcombe, Stat Med 1998;17:857-872, method 5.
 */
export function clopperPearson(events: number, n: number, confidence = 0.95): Interval {
  const tail = (1 - confidence) / 2;
  return {
    low: events === 0 ? 0 : betaQuantile(tail, events, n - events + 1),
    high: events === n ? 1 : betaQuantile(1 - tail, events + 1, n - events),
  };
}

/**
 * Agresti-Coull interval: p ± z √(p(1−p)/ñ) on ñ = n + z², p = (x + z²/2)/ñ. Not cut, so it can leave [0, 1].
 * Source: Brown, Cai, DasGupta, Stat Sci 2001;16:101-133.
 */
export function agrestiCoull(events: number, n: number, confidence = 0.95): Interval {
  const z = twoSidedZ(confidence);
  const size = n + z * z;
  const rate = (events + (z * z) / 2) / size;
  const half = z * Math.sqrt((rate * (1 - rate)) / size);
  return { low: rate - half, high: rate + half };
}

/**
 * Nothing seen in n: the exact one-sided 95 % bound 1 − 0.05^(1/n), and its large-n form 3/n, which is too wide below
 * about n = 30. Source: Jovanovic, Levy, Am Stat 1997;51:137-139.
 */
export function nothingSeen(n: number): { readonly exactUpper: number; readonly ruleOfThree: number } {
  return { exactUpper: 1 - 0.05 ** (1 / n), ruleOfThree: 3 / n };
}

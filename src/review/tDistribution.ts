import { betaCdf, betaQuantile } from './betaDistribution.ts';
import type { Interval } from './oneRate.ts';

/** t with P(|T| ≤ t) = `confidence` for Student's t, degrees > 0. Source: NIST DLMF (2024), 8.17 (through I_x). */
export function twoSidedT(confidence: number, degrees: number): number {
  const x = betaQuantile(1 - confidence, degrees / 2, 0.5);
  return Math.sqrt((degrees * (1 - x)) / x);
}

/** Two-sided p of Student's t. */
export function tTestP(t: number, degrees: number): number {
  return betaCdf(degrees / (degrees + t * t), degrees / 2, 0.5);
}

export type MeanOf = {
  readonly n: number;
  readonly mean: number;
  readonly sd: number;
  readonly interval: Interval;
  /** Two-sided p that the true mean is 0. */
  readonly p: number;
};

/**
 * Mean, standard deviation (n − 1), 95 % interval and p against 0, by Student's t; null under two values. The deviation is
 * taken as no smaller than `leastSd`: readings that are all alike show how coarsely was read, not that nothing varies.
 */
export function meanWithInterval(values: readonly number[], confidence = 0.95, leastSd = 0): MeanOf | null {
  const n = values.length;
  if (n < 2) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const seen = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1));
  const sd = Math.max(seen, leastSd);
  const error = sd / Math.sqrt(n);
  const reach = twoSidedT(confidence, n - 1) * error;
  const p = error === 0 ? (mean === 0 ? 1 : 0) : tTestP(mean / error, n - 1);
  return { n, mean, sd, interval: { low: mean - reach, high: mean + reach }, p };
}

import { betaCdf } from './betaDistribution.ts';
import { lnChoose } from './gamma.ts';

/** P(X = x) of Bin(n, p), whole 0 ≤ x ≤ n, 0 ≤ p ≤ 1. */
export function binomialPmf(x: number, n: number, p: number): number {
  if (p <= 0) return x === 0 ? 1 : 0;
  if (p >= 1) return x === n ? 1 : 0;
  return Math.exp(lnChoose(n, x) + x * Math.log(p) + (n - x) * Math.log1p(-p));
}

/** P(X ≥ x) of Bin(n, p) = I_p(x, n − x + 1). Source: NIST DLMF (2024), 8.17.5. */
export function binomialUpperTail(x: number, n: number, p: number): number {
  if (x <= 0) return 1;
  if (x > n) return 0;
  return betaCdf(p, x, n - x + 1);
}

/** P(X ≤ x) of Bin(n, p) = I_(1−p)(n − x, x + 1). Source: NIST DLMF (2024), 8.17.5. */
export function binomialLowerTail(x: number, n: number, p: number): number {
  if (x < 0) return 0;
  if (x >= n) return 1;
  return betaCdf(1 - p, n - x, x + 1);
}

/**
 * Exact two-sided binomial test of the rate `nullRate`: the probability of all counts that are no more probable than
 * the one seen (relative slack 1e-7, so that equal counts on the two sides are not parted by rounding).
 * Source: R Core Team, R stats manual, binom.test (from memory).
 */
export function binomialTest(events: number, n: number, nullRate: number): number {
  const seen = binomialPmf(events, n, nullRate);
  const limit = seen * (1 + 1e-7);
  const mean = n * nullRate;
  if (events === mean) return 1;
  if (events < mean) {
    let other = n;
    while (other > mean && binomialPmf(other, n, nullRate) <= limit) other -= 1;
    return Math.min(1, binomialLowerTail(events, n, nullRate) + binomialUpperTail(other + 1, n, nullRate));
  }
  let other = 0;
  while (other < mean && binomialPmf(other, n, nullRate) <= limit) other += 1;
  return Math.min(1, binomialUpperTail(events, n, nullRate) + binomialLowerTail(other - 1, n, nullRate));
}

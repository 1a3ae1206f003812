import { lnGamma } from './gamma.ts';

/**
 * Upper tail P(X > x) of the chi-square distribution, `degrees` > 0: the regularised upper incomplete gamma function
 * Q(degrees/2, x/2), by its series below and its continued fraction above the mean. Relative error about 1e-13.
 * Source: NIST DLMF (2024), 8.11.4 (series), 8.9.2 (fraction).
 */
export function chiSquareTail(x: number, degrees: number): number {
  return upperGamma(degrees / 2, x / 2);
}

/** P(Z ≤ z) of the standard normal. Small tails keep their relative precision. Source: NIST DLMF (2024), 7.11.2. */
export function normalCdf(z: number): number {
  const tail = 0.5 * upperGamma(0.5, (z * z) / 2);
  return z < 0 ? tail : 1 - tail;
}

/** z with P(Z ≤ z) = p, 0 < p < 1: Newton steps from the tail's own size. Absolute error below 1e-12. */
export function normalQuantile(p: number): number {
  if (p === 0.5) return 0;
  if (p > 0.5) return -normalQuantile(1 - p);
  // Start outside the root: on the lower tail ln Φ is concave, so Newton on it closes in from one side.
  let z = -Math.sqrt(-2 * Math.log(p));
  for (let step = 0; step < 60; step += 1) {
    const cdf = normalCdf(z);
    const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    const move = ((Math.log(cdf) - Math.log(p)) * cdf) / density;
    z -= move;
    if (Math.abs(move) < 1e-14 * Math.abs(z)) break;
  }
  return z;
}

/** The z of a two-sided interval: 0.95 gives 1.959964. */
export function twoSidedZ(confidence: number): number {
  return -normalQuantile((1 - confidence) / 2);
}

function upperGamma(a: number, x: number): number {
  if (x <= 0) return 1;
  const front = Math.exp(a * Math.log(x) - x - lnGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let k = 1; k < 10_000 && term > sum * 1e-17; k += 1) {
      term *= x / (a + k);
      sum += term;
    }
    return 1 - front * sum;
  }
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let value = d;
  for (let k = 1; k < 10_000; k += 1) {
    const numerator = -k * (k - a);
    b += 2;
    d = 1 / (numerator * d + b);
    c = b + numerator / c;
    const factor = d * c;
    value *= factor;
    if (Math.abs(factor - 1) < 1e-16) break;
  }
  return front * value;
}

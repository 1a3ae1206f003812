import { describe, expect, test } from 'vitest';
import { betaCdf, betaQuantile } from '../../src/review/betaDistribution.ts';
import {
  binomialLowerTail,
  binomialPmf,
  binomialTest,
  binomialUpperTail,
} from '../../src/review/binomial.ts';
import { digammaRise, lnBeta, lnChoose, lnGamma, trigammaRise } from '../../src/review/gamma.ts';
import { chiSquareTail, normalCdf, normalQuantile, twoSidedZ } from '../../src/review/normalDistribution.ts';
import { tTestP, twoSidedT } from '../../src/review/tDistribution.ts';

const near = (actual: number, expected: number, relative = 1e-12): void =>
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(relative * Math.max(1e-300, Math.abs(expected)));

describe('ln gamma', () => {
  test('is the factorial at whole numbers and √π at a half', () => {
    let factorial = 1;
    for (let n = 1; n <= 20; n += 1) {
      expect(Math.abs(lnGamma(n) - Math.log(factorial))).toBeLessThan(1e-13 * Math.max(1, n));
      factorial *= n;
    }
    near(lnGamma(0.5), 0.5 * Math.log(Math.PI));
    near(lnGamma(0.001), Math.log(999.4237724845955), 1e-12);
  });

  test('keeps Γ(x + 1) = x Γ(x) up to a million', () => {
    for (const x of [0.3, 7.7, 99.5, 12_345.6, 1e6]) {
      expect(Math.abs(lnGamma(x + 1) - lnGamma(x) - Math.log(x))).toBeLessThan(
        1e-15 * Math.abs(lnGamma(x)) + 1e-13,
      );
    }
  });

  test('binomial coefficients and beta values agree with whole numbers', () => {
    near(Math.exp(lnChoose(52, 5)), 2_598_960, 1e-11);
    expect(lnChoose(7, 0)).toBe(0);
    near(Math.exp(lnBeta(3, 4)), 1 / 60);
  });

  test('rises of ψ and ψ′ join at the switch from sums to series', () => {
    for (const a of [0.2, 3, 40, 5000]) {
      near(digammaRise(a, 65), digammaRise(a, 64) + 1 / (a + 64), 1e-11);
      near(trigammaRise(a, 65), trigammaRise(a, 64) - 1 / (a + 64) ** 2, 1e-9);
    }
  });
});

describe('beta distribution', () => {
  test('has its closed forms: powers, the arcsine law, and symmetry', () => {
    for (const x of [0.001, 0.2, 0.5, 0.77, 0.999]) {
      near(betaCdf(x, 1, 7), 1 - (1 - x) ** 7, 1e-11);
      near(betaCdf(x, 5, 1), x ** 5, 1e-11);
      near(betaCdf(x, 0.5, 0.5), (2 / Math.PI) * Math.asin(Math.sqrt(x)), 1e-11);
      near(betaCdf(x, 3.5, 20.5) + betaCdf(1 - x, 20.5, 3.5), 1, 1e-12);
    }
    expect(betaCdf(-0.1, 2, 3)).toBe(0);
    expect(betaCdf(1.1, 2, 3)).toBe(1);
  });

  test('quantiles lead back to their probability, small shapes and large', () => {
    const shapes: [number, number][] = [
      [0.5, 12.5],
      [3.5, 37.5],
      [2, 28],
      [9.5, 301.5],
      [0.05, 3],
      [500, 9500],
      [2e4, 8e4],
    ];
    for (const [a, b] of shapes) {
      for (const p of [0.001, 0.025, 0.5, 0.975, 0.999]) near(betaCdf(betaQuantile(p, a, b), a, b), p, 1e-9);
    }
  });

  test('the median of Beta(2, 28) is 0.057202, where a common table of values goes wrong', () => {
    // Closed form: 1 − (1−x)^29 − 29 x (1−x)^28 = ½.
    const x = betaQuantile(0.5, 2, 28);
    expect(x).toBeCloseTo(0.057202, 6);
    near(1 - (1 - x) ** 29 - 29 * x * (1 - x) ** 28, 0.5, 1e-11);
  });
});

describe('normal, chi-square and Student', () => {
  test('normal quantiles are the printed ones and lead back', () => {
    expect(twoSidedZ(0.95)).toBeCloseTo(1.959963984540054, 12);
    expect(twoSidedZ(0.998)).toBeCloseTo(3.090232306167813, 12);
    for (const p of [1e-12, 1e-6, 0.2, 0.5, 0.9, 0.999999]) near(normalCdf(normalQuantile(p)), p, 1e-10);
  });

  test('chi-square tails have their closed forms', () => {
    for (const x of [0.1, 1, 3.84, 20, 60]) {
      near(chiSquareTail(x, 2), Math.exp(-x / 2), 1e-11);
      near(chiSquareTail(x, 4), Math.exp(-x / 2) * (1 + x / 2), 1e-11);
      near(chiSquareTail(x, 1), 2 * normalCdf(-Math.sqrt(x)), 1e-11);
    }
    expect(chiSquareTail(0, 3)).toBe(1);
  });

  test("Student's t has its closed forms at one and two degrees and nears the normal", () => {
    near(twoSidedT(0.95, 1), Math.tan((Math.PI * 0.95) / 2), 1e-9);
    near(twoSidedT(0.95, 2), (0.95 * Math.SQRT2) / Math.sqrt(1 - 0.95 ** 2), 1e-9);
    expect(twoSidedT(0.95, 1e6)).toBeCloseTo(1.95997, 4);
    near(tTestP(twoSidedT(0.95, 22), 22), 0.05, 1e-9);
  });
});

describe('binomial', () => {
  test('tails are the sums of their chances', () => {
    for (const [n, p] of [
      [12, 0.03],
      [40, 0.5],
      [29, 0.5],
      [310, 0.0296],
    ] as const) {
      let sum = 0;
      for (let x = 0; x <= n; x += 1) {
        sum += binomialPmf(x, n, p);
        near(binomialLowerTail(x, n, p), Math.min(1, sum), 1e-10);
        if (x < n) near(binomialUpperTail(x + 1, n, p) + binomialLowerTail(x, n, p), 1, 1e-10);
      }
    }
  });

  test('edges: a rate of 0 or 1, more events than pairs', () => {
    expect(binomialPmf(0, 9, 0)).toBe(1);
    expect(binomialPmf(9, 9, 1)).toBe(1);
    expect(binomialUpperTail(1, 9, 0)).toBe(0);
    expect(binomialUpperTail(10, 9, 0.5)).toBe(0);
    expect(binomialTest(5, 10, 0.5)).toBe(1);
  });

  test('five to none is p 1/16', () => near(binomialTest(5, 5, 0.5), 1 / 16));
});

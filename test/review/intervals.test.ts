/** How often intervals cover, and what they do at the edges. Coverage is summed exactly over all counts, not drawn. */
import { describe, expect, test } from 'vitest';
import { anyDifference } from '../../src/review/anyDifference.ts';
import { betaCdf } from '../../src/review/betaDistribution.ts';
import { binomialPmf } from '../../src/review/binomial.ts';
import { chanceFirstHigher } from '../../src/review/chanceHigher.ts';
import { fisherExact } from '../../src/review/fisherExact.ts';
import { adjustBenjaminiHochberg, adjustHolm } from '../../src/review/manyLooks.ts';
import { clopperPearson, type Interval, jeffreys, nothingSeen, wilson } from '../../src/review/oneRate.ts';
import { pairsPerArm } from '../../src/review/sampleSize.ts';
import { meanWithInterval } from '../../src/review/tDistribution.ts';
import { differenceOfRates } from '../../src/review/twoRates.ts';
import { chance, normal } from './pairsForTests.ts';

type Method = (events: number, n: number) => Interval;

function coverage(method: Method, n: number, rate: number): number {
  let covered = 0;
  for (let x = 0; x <= n; x += 1) {
    const { low, high } = method(x, n);
    if (low <= rate && rate <= high) covered += binomialPmf(x, n, rate);
  }
  return covered;
}

describe('coverage of "95 %" at a rate of 3 %', () => {
  // Brown, Cai, DasGupta, Stat Sci 2001;16:101-133 show the pattern; the figures are exact sums.
  const table: [string, Method, number[]][] = [
    ['Wilson', wilson, [95, 97, 96]],
    ['Jeffreys', jeffreys, [95, 97, 96]],
    ['Clopper-Pearson', clopperPearson, [99, 99, 97]],
  ];
  for (const [name, method, expected] of table) {
    test(name, () => {
      [12, 40, 310].forEach((n, at) => {
        expect(Math.abs(100 * coverage(method, n, 0.03) - expected[at]!)).toBeLessThan(0.6);
      });
    });
  }

  test('the plain p ± 1.96 standard errors would cover 31, 70 and 95 %', () => {
    const wald: Method = (x, n) => {
      const half = 1.96 * Math.sqrt(((x / n) * (1 - x / n)) / n);
      return { low: x / n - half, high: x / n + half };
    };
    expect([12, 40, 310].map((n) => Math.round(100 * coverage(wald, n, 0.03)))).toEqual([31, 70, 95]);
  });

  test('Clopper-Pearson keeps its promise at every rate, Wilson keeps it on average', () => {
    const rates = Array.from({ length: 99 }, (_, at) => (at + 1) / 100);
    expect(Math.min(...rates.map((rate) => coverage(clopperPearson, 40, rate)))).toBeGreaterThanOrEqual(0.95);
    const mean = rates.reduce((sum, rate) => sum + coverage(wilson, 40, rate), 0) / rates.length;
    expect(mean).toBeGreaterThan(0.945);
    expect(mean).toBeLessThan(0.962);
  });
});

describe('edges of one rate', () => {
  test('none of n begins at exactly 0, all of n ends at exactly 1, none of none says nothing', () => {
    for (const method of [wilson, jeffreys, clopperPearson]) {
      expect(method(0, 12).low).toBe(0);
      expect(method(12, 12).high).toBe(1);
    }
    expect(wilson(0, 0)).toEqual({ low: 0, high: 1 });
  });

  test('none of 12 leaves 22 % open, where 3/n says 25 %', () => {
    expect(nothingSeen(12).exactUpper).toBeCloseTo(0.2209, 4);
    expect((1 - nothingSeen(12).exactUpper) ** 12).toBeCloseTo(0.05, 12);
    expect(nothingSeen(12).ruleOfThree).toBe(0.25);
  });

  test('a wider confidence holds the narrower one', () => {
    const narrow = wilson(3, 40, 0.95);
    const wide = wilson(3, 40, 0.998);
    expect(wide.low).toBeLessThan(narrow.low);
    expect(wide.high).toBeGreaterThan(narrow.high);
  });
});

describe('two rates', () => {
  test('the hybrid interval of a difference covers 95 % of 2,000 drawn shops (seed 11)', () => {
    const next = chance(11);
    const draw = (n: number, rate: number): number => {
      let x = 0;
      for (let at = 0; at < n; at += 1) if (next() < rate) x += 1;
      return x;
    };
    let covered = 0;
    for (let round = 0; round < 2000; round += 1) {
      const { low, high } = differenceOfRates(draw(60, 0.1), 60, draw(90, 0.04), 90);
      if (low <= 0.06 && 0.06 <= high) covered += 1;
    }
    expect(covered / 2000).toBeGreaterThan(0.935);
    expect(covered / 2000).toBeLessThan(0.975);
  });

  test('swapping the sides turns the sign', () => {
    const one = differenceOfRates(6, 48, 15, 426);
    const other = differenceOfRates(15, 426, 6, 48);
    expect(one.low).toBeCloseTo(-other.high, 12);
    expect(one.difference).toBeCloseTo(-other.difference, 12);
  });

  test("Fisher's chances of all tables add up to 1, whichever side is first", () => {
    const found = fisherExact(3, 40, 18, 434);
    const turned = fisherExact(18, 434, 3, 40);
    expect(found.pTwoSided).toBeCloseTo(turned.pTwoSided, 10);
    expect(found.pGreater).toBeCloseTo(turned.pLess, 10);
    expect(found.midPGreater + found.midPLess).toBeCloseTo(1, 10);
    expect(fisherExact(0, 40, 0, 400).pTwoSided).toBeCloseTo(1, 12);
  });

  test('the chance to be higher: closed forms for whole shapes', () => {
    // Beta(1, b): P(A > B) = ∫ b (1−t)^(b−1) (1 − (1−t)^d) dt = 1 − b/(b + d).
    expect(chanceFirstHigher({ alpha: 1, beta: 4 }, { alpha: 1, beta: 9 })).toBeCloseTo(9 / 13, 9);
    expect(chanceFirstHigher({ alpha: 2.5, beta: 7.5 }, { alpha: 2.5, beta: 7.5 })).toBeCloseTo(0.5, 9);
    expect(chanceFirstHigher({ alpha: 0.5, beta: 12.5 }, { alpha: 0.5, beta: 12.5 })).toBeCloseTo(0.5, 9);
    const one = chanceFirstHigher({ alpha: 9.5, beta: 301.5 }, { alpha: 3000.5, beta: 97_000.5 });
    const other = chanceFirstHigher({ alpha: 3000.5, beta: 97_000.5 }, { alpha: 9.5, beta: 301.5 });
    expect(one + other).toBeCloseTo(1, 9);
  });

  test('the chance to be higher agrees with a 20,000-step Simpson sum', () => {
    const steps = 20_000;
    const [a, b, c, d] = [6.5, 42.5, 15.5, 411.5];
    const density = (t: number): number => {
      const h = 1e-7;
      return (betaCdf(t + h, a, b) - betaCdf(t - h, a, b)) / (2 * h);
    };
    let sum = 0;
    for (let k = 0; k <= steps; k += 1) {
      const t = 0.0001 + (0.9998 * k) / steps;
      sum += (k === 0 || k === steps ? 1 : k % 2 === 1 ? 4 : 2) * density(t) * betaCdf(t, c, d);
    }
    expect(chanceFirstHigher({ alpha: a, beta: b }, { alpha: c, beta: d })).toBeCloseTo(
      (sum * 0.9998) / steps / 3,
      5,
    );
  });

  test('pairs needed to see a doubling or trebling, as R prints them', () => {
    // R stats, power.prop.test: 748, 245 and 434 pairs in each arm (rounded).
    expect(
      [pairsPerArm(0.03, 0.06), pairsPerArm(0.03, 0.09), pairsPerArm(0.05, 0.1)].map(Math.round),
    ).toEqual([748, 245, 434]);
  });
});

describe('many groups at once', () => {
  test('the exact overall test of two groups is the test of Fisher', () => {
    expect(anyDifference([6, 15], [48, 426]).pExact).toBeCloseTo(fisherExact(6, 48, 15, 426).pTwoSided, 10);
  });

  test('nothing seen, one group and empty groups are no difference, not a fault', () => {
    expect(anyDifference([0, 0], [40, 12]).pExact).toBe(1);
    expect(anyDifference([3], [40]).pChiSquare).toBe(1);
    expect(anyDifference([3, 1, 0], [40, 20, 0]).degrees).toBe(1);
    expect(anyDifference([], []).pChiSquare).toBe(1);
  });

  test('expected counts below 1 make the approximation doubtful, and only they', () => {
    expect(anyDifference([3, 0, 9], [40, 12, 310]).approximationDoubtful).toBe(true);
    expect(anyDifference([8, 6], [90, 90]).approximationDoubtful).toBe(false);
  });

  test('too many tables: the approximation stands alone', () => {
    const many = anyDifference(
      Array.from({ length: 40 }, () => 9),
      Array.from({ length: 40 }, () => 200),
    );
    expect(many.pExact).toBeNull();
    expect(many.pChiSquare).toBeCloseTo(1, 6);
  });

  test('adjusted p are never below the raw ones, Holm never below Benjamini-Hochberg, order kept', () => {
    const p = [0.04, 0.001, 0.6, 0.0101, 0.04];
    const holm = adjustHolm(p);
    const bh = adjustBenjaminiHochberg(p);
    p.forEach((raw, at) => {
      expect(holm[at]).toBeGreaterThanOrEqual(bh[at]!);
      expect(bh[at]).toBeGreaterThanOrEqual(raw);
    });
    expect(holm[1]).toBeCloseTo(0.005, 12);
    expect(adjustHolm([])).toEqual([]);
  });
});

test('the interval of a mean covers 95 % of 4,000 draws of 23 (seed 5)', () => {
  const next = chance(5);
  let covered = 0;
  for (let round = 0; round < 4000; round += 1) {
    const found = meanWithInterval(Array.from({ length: 23 }, () => 1.1 + 1.2 * normal(next)))!;
    if (found.interval.low <= 1.1 && 1.1 <= found.interval.high) covered += 1;
  }
  expect(covered / 4000).toBeGreaterThan(0.94);
  expect(covered / 4000).toBeLessThan(0.96);
});

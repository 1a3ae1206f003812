import { describe, expect, test } from 'vitest';
import { chanceFirstHigher } from '../../src/review/chanceHigher.ts';
import { lnBeta } from '../../src/review/gamma.ts';
import { fitBetaPrior, posteriorRate, STRENGTH_CAP, shrinkRates } from '../../src/review/shrinkage.ts';

const SHOP = [
  [3, 40],
  [0, 12],
  [9, 310],
  [2, 55],
  [6, 48],
  [1, 9],
].map(([events, n]) => ({ events: events!, n: n! }));

describe('the prior of a shop', () => {
  test('no neighbour on a fine grid is more likely than the fitted point', () => {
    const fit = fitBetaPrior(SHOP);
    if (fit.kind !== 'fitted') throw new Error(fit.kind);
    const lnL = (mean: number, strength: number): number =>
      SHOP.reduce(
        (sum, { events, n }) =>
          sum +
          lnBeta(mean * strength + events, (1 - mean) * strength + n - events) -
          lnBeta(mean * strength, (1 - mean) * strength),
        0,
      );
    const best = lnL(fit.mean, fit.strength);
    for (const m of [0.9, 0.97, 1, 1.03, 1.1]) {
      for (const s of [0.5, 0.9, 1, 1.1, 2, 100]) {
        if (m !== 1 || s !== 1) expect(lnL(fit.mean * m, fit.strength * s)).toBeLessThan(best);
      }
    }
  });

  test('equal rates pool completely at the cap; one group, none and all with events cannot be fitted', () => {
    const equal = fitBetaPrior(Array.from({ length: 9 }, () => ({ events: 2, n: 20 })));
    expect(equal.kind).toBe('pool completely');
    if (equal.kind === 'pool completely') {
      expect(equal.strength).toBe(STRENGTH_CAP);
      expect(equal.mean).toBeCloseTo(0.1, 5);
    }
    for (const groups of [
      [],
      [{ events: 9, n: 310 }],
      [
        { events: 0, n: 40 },
        { events: 0, n: 12 },
      ],
      [
        { events: 4, n: 4 },
        { events: 3, n: 3 },
      ],
      [
        { events: 1, n: 9 },
        { events: 0, n: 0 },
      ],
    ]) {
      expect(fitBetaPrior(groups).kind).toBe('not estimable');
    }
  });

  test('groups as far apart as can be give a weak prior, not a fault', () => {
    const fit = fitBetaPrior([
      { events: 20, n: 20 },
      { events: 0, n: 20 },
      { events: 19, n: 20 },
      { events: 0, n: 20 },
    ]);
    if (fit.kind !== 'fitted') throw new Error(fit.kind);
    expect(fit.strength).toBeLessThan(1);
    expect(fit.strength).toBeGreaterThan(0);
  });
});

describe('shrunken rates', () => {
  test('lie between the raw rate and the rate of all, nearer to all for the small ones', () => {
    const { rates, method } = shrinkRates(SHOP);
    const all = 21 / 474;
    rates.forEach(({ mean, low, high }, at) => {
      const raw = SHOP[at]!.events / SHOP[at]!.n;
      expect(mean).toBeGreaterThan(Math.min(raw, all) - 0.012);
      expect(mean).toBeLessThan(Math.max(raw, all) + 0.012);
      expect(low).toBeLessThan(mean);
      expect(high).toBeGreaterThan(mean);
    });
    expect(Math.abs(rates[5]!.mean - 1 / 9)).toBeGreaterThan(Math.abs(rates[2]!.mean - 9 / 310));
    expect(method).toContain('averaged over how strongly');
  });

  test('with few groups the interval is wider than one that takes the strength as known', () => {
    const fit = fitBetaPrior(SHOP);
    if (fit.kind !== 'fitted') throw new Error(fit.kind);
    const known = posteriorRate(fit, SHOP[4]!);
    const mixed = shrinkRates(SHOP).rates[4]!;
    expect(mixed.high - mixed.low).toBeGreaterThan(known.high - known.low);
  });

  test('nothing to fit: each group by itself, said so, never not-a-number', () => {
    const { rates, method } = shrinkRates([
      { events: 0, n: 40 },
      { events: 0, n: 0 },
    ]);
    for (const { mean, low, high } of rates)
      for (const value of [mean, low, high]) expect(Number.isFinite(value)).toBe(true);
    expect(method).toContain('each by itself');
    // Jeffreys: (0 + ½) / (40 + 1).
    expect(rates[0]!.mean).toBeCloseTo(0.5 / 41, 12);
  });
});

test('groups that pool completely get the rate of all pairs, also with a million pairs each', () => {
  const fit = fitBetaPrior([
    { events: 1, n: 1_000_000 },
    { events: 1, n: 1_000_000 },
  ]);
  expect(fit).toMatchObject({ kind: 'pool completely', mean: 1e-6 });
});

test('alike rates are as likely higher as not, also where all pairs came back', () => {
  for (const [events, n] of [
    [10, 10],
    [0, 10],
    [5, 10],
  ] as const) {
    const one = posteriorRate({ alpha: 0.1, beta: 0.1 }, { events, n });
    expect(chanceFirstHigher(one, one)).toBeCloseTo(0.5, 6);
  }
});

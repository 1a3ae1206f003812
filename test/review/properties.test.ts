/** What must hold whatever the counts; drawn by fast-check with a fixed seed. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { aalenJohansen } from '../../src/review/aalenJohansen.ts';
import { betaCdf, betaQuantile } from '../../src/review/betaDistribution.ts';
import { exactFunnelLimit } from '../../src/review/funnelLimits.ts';
import { kaplanMeier } from '../../src/review/kaplanMeier.ts';
import { logRank } from '../../src/review/logRank.ts';
import { clopperPearson, jeffreys, wilson } from '../../src/review/oneRate.ts';
import { averageRunLength } from '../../src/review/runLength.ts';
import { shrinkRates } from '../../src/review/shrinkage.ts';
import { differenceOfRates } from '../../src/review/twoRates.ts';
import { judgeGroups } from '../../src/review/verdicts.ts';
import { tallyByDay } from '../../src/review/watched.ts';
import { expectedGainBits, posteriorShares } from '../checks/statistics.bayes.ts';

const settings = { seed: 81, numRuns: 300 };
const counts = fc
  .integer({ min: 1, max: 5000 })
  .chain((n) => fc.record({ events: fc.integer({ min: 0, max: n }), n: fc.constant(n) }));
const share = fc.double({ min: 0.001, max: 0.999, noNaN: true });

describe('intervals', () => {
  test('hold the rate seen and stay within 0 and 1', () => {
    fc.assert(
      fc.property(counts, ({ events, n }) => {
        for (const { low, high } of [wilson(events, n), jeffreys(events, n), clopperPearson(events, n)]) {
          expect(low).toBeGreaterThanOrEqual(0);
          expect(high).toBeLessThanOrEqual(1);
          expect(low).toBeLessThanOrEqual(events / n + 1e-12);
          expect(high).toBeGreaterThanOrEqual(events / n - 1e-12);
        }
      }),
      settings,
    );
  });

  test('of a difference stay within −1 and 1 and hold the difference seen', () => {
    fc.assert(
      fc.property(counts, counts, (one, two) => {
        const { difference, low, high } = differenceOfRates(one.events, one.n, two.events, two.n);
        expect(low).toBeLessThanOrEqual(difference + 1e-12);
        expect(high).toBeGreaterThanOrEqual(difference - 1e-12);
        expect(low).toBeGreaterThanOrEqual(-1 - 1e-9);
        expect(high).toBeLessThanOrEqual(1 + 1e-9);
      }),
      settings,
    );
  });

  test('beta quantiles rise with their probability and lead back to it', () => {
    const shape = fc.double({ min: 0.2, max: 3000, noNaN: true });
    fc.assert(
      fc.property(shape, shape, share, share, (a, b, p, q) => {
        const [low, high] = p < q ? [p, q] : [q, p];
        expect(betaQuantile(low, a, b)).toBeLessThanOrEqual(betaQuantile(high, a, b) * (1 + 1e-12));
        const x = betaQuantile(p, a, b);
        // Above ½ a quantile is held as 1 − x: where it lies within rounding of 1 there is nothing to lead back from.
        if (x < 1 - 1e-9) expect(Math.abs(betaCdf(x, a, b) - p)).toBeLessThan(1e-7);
      }),
      settings,
    );
  });
});

describe('groups', () => {
  const groups = fc.array(fc.record({ n: fc.integer({ min: 0, max: 400 }), part: share }), {
    minLength: 0,
    maxLength: 30,
  });

  test('of any counts get finite shrunken rates, intervals in order, and a verdict', () => {
    fc.assert(
      fc.property(groups, (drawn) => {
        const some = drawn.map(({ n, part }) => ({ n, events: Math.floor(n * part * part) }));
        const { rates } = shrinkRates(some);
        for (const { mean, low, high } of rates) {
          expect(low).toBeGreaterThanOrEqual(0);
          expect(low).toBeLessThanOrEqual(mean + 1e-9);
          expect(mean).toBeLessThanOrEqual(high + 1e-9);
          expect(high).toBeLessThanOrEqual(1);
        }
        const judged = judgeGroups(some).groups;
        judged.forEach(({ verdict, p, pHolm }, at) => {
          if (some[at]!.n < 20) expect(verdict).toBe('too few to say');
          if (p !== null) expect(pHolm!).toBeGreaterThanOrEqual(p);
        });
      }),
      { ...settings, numRuns: 120 },
    );
  });

  test('more events in one group, all else equal, never make its verdict milder', () => {
    const order = ['better', 'like the rest', 'watch', 'worse than the rest'];
    fc.assert(
      fc.property(
        fc.integer({ min: 20, max: 300 }),
        fc.integer({ min: 200, max: 2000 }),
        share,
        (n, rest, part) => {
          const others = { n: rest, events: Math.floor(rest * part * 0.3) };
          let before = 0;
          for (let events = 0; events <= Math.min(n, 60); events += 1) {
            const place = order.indexOf(judgeGroups([{ n, events }, others]).groups[0]!.verdict);
            expect(place).toBeGreaterThanOrEqual(before);
            before = place;
          }
        },
      ),
      { ...settings, numRuns: 30 },
    );
  });

  test('funnel limits rise with the tail and close in on the centre', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 5, max: 3000 }),
        fc.double({ min: 0.005, max: 0.5, noNaN: true }),
        (n, centre) => {
          const limits = [0.001, 0.025, 0.975, 0.999].map((p) => exactFunnelLimit(centre, n, p));
          for (let at = 1; at < limits.length; at += 1)
            expect(limits[at]!).toBeGreaterThanOrEqual(limits[at - 1]!);
          expect(limits[3]! - limits[0]!).toBeLessThan(
            2 * (4 * Math.sqrt((centre * (1 - centre)) / n) + 4 / n),
          );
        },
      ),
      settings,
    );
  });
});

describe('days', () => {
  const watches = fc.array(
    fc.record({ day: fc.integer({ min: 0, max: 40 }), way: fc.constantFrom(null, 0, 1, 2) }),
    { minLength: 1, maxLength: 80 },
  );

  test('shares ended and waiting add up to 1, only rise, and the waiting share is the plain curve of all ends', () => {
    fc.assert(
      fc.property(watches, (drawn) => {
        const days = drawn.map(({ day }) => day);
        const ways = drawn.map(({ way }) => way);
        const steps = aalenJohansen(tallyByDay(days, ways, 3));
        const curve = kaplanMeier(
          tallyByDay(
            days,
            ways.map((way) => (way === null ? null : 0)),
            1,
          ),
        );
        let before = [0, 0, 0];
        steps.forEach(({ shares, waiting, errors }, at) => {
          expect(shares.reduce((sum, x) => sum + x, waiting)).toBeCloseTo(1, 10);
          expect(waiting).toBeCloseTo(curve[at]!.survival, 10);
          shares.forEach((value, k) => {
            expect(value).toBeGreaterThanOrEqual(before[k]! - 1e-12);
          });
          for (const error of errors) expect(Number.isFinite(error)).toBe(true);
          before = [...shares];
        });
      }),
      settings,
    );
  });

  test('two groups with the same course differ by nothing, and swapping them changes nothing', () => {
    fc.assert(
      fc.property(watches, watches, (one, two) => {
        const group = (drawn: typeof one) => ({
          days: drawn.map(({ day }) => day),
          seen: drawn.map(({ way }) => way === 0),
        });
        expect(logRank(group(one), group(one)).chiSquare).toBeCloseTo(0, 9);
        expect(logRank(group(one), group(two)).chiSquare).toBeCloseTo(
          logRank(group(two), group(one)).chiSquare,
          8,
        );
      }),
      settings,
    );
  });
});

test('a question never takes knowledge away, and shares after an answer add up to 1', () => {
  const chances = fc.array(share, { minLength: 4, maxLength: 4 });
  fc.assert(
    fc.property(chances, chances, (weights, yes) => {
      const whole = weights.reduce((sum, x) => sum + x, 0);
      const prior = weights.map((x) => x / whole);
      expect(expectedGainBits(prior, [yes, yes.map((x) => 1 - x)])).toBeGreaterThanOrEqual(0);
      expect(posteriorShares(prior, yes).shares.reduce((sum, x) => sum + x, 0)).toBeCloseTo(1, 10);
    }),
    settings,
  );
});

test('the average run length rises with the line and falls with the rate', () => {
  const sum = (alarmAtOrAbove: number) => ({
    stepEvent: 13,
    stepNoEvent: -1,
    floor: 0,
    start: 0,
    alarmAtOrAbove,
  });
  fc.assert(
    fc.property(
      fc.integer({ min: 2, max: 150 }),
      fc.double({ min: 0.01, max: 0.3, noNaN: true }),
      (line, rate) => {
        expect(averageRunLength(sum(line + 1), rate)).toBeGreaterThanOrEqual(
          averageRunLength(sum(line), rate) - 1e-6,
        );
        expect(averageRunLength(sum(line), rate * 1.2)).toBeLessThanOrEqual(
          averageRunLength(sum(line), rate) + 1e-6,
        );
      },
    ),
    settings,
  );
  // Steps of two down as well: the same chain with every height doubled.
  const doubled = { stepEvent: 26, stepNoEvent: -2, floor: 0, start: 0, alarmAtOrAbove: 116 };
  expect(averageRunLength(doubled, 0.05)).toBeCloseTo(averageRunLength(sum(58), 0.05), 4);
});

test('the quick way to an average run length gives what the band gives, to nine digits', () => {
  for (const up of [2, 14, 33, 139])
    for (const line of [10, 50, 200, 600])
      for (const times of [0.3, 0.7, 1, 1.5, 2, 3]) {
        const rate = times / (1.45 * up + 1);
        const steps = { stepEvent: up, stepNoEvent: -1, floor: 0, alarmAtOrAbove: line };
        // Begun above the floor the band answers. From the floor: E(0) = 1 + p E(up) + (1 − p) E(0).
        const quick = averageRunLength({ ...steps, start: 0 }, rate);
        const upThere = up < line ? averageRunLength({ ...steps, start: up }, rate) : 0;
        if (quick > 1e9) continue;
        expect(Math.abs((1 / rate + upThere) / quick - 1)).toBeLessThan(1e-8);
      }
});

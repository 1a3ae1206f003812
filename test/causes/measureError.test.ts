import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readJobFacts } from '../../src/causes/jobFacts.ts';
import { mayTrulyBe } from '../../src/causes/measureError.ts';
import { rankCauses } from '../../src/causes/rank.ts';
import { drawWearer, randomFrom } from './simulatedShop.ts';

const low = (mm: number, errorMm?: number) => {
  const { facts } = readJobFacts({
    day: 6,
    slips: false,
    cross_above_pupil_mm: mm,
    ...(errorMm === undefined ? {} : { cross_above_pupil_error_mm: errorMm }),
  });
  return rankCauses(['near-too-low'], facts).find(({ cause }) => cause.id === 'cross-too-low')!;
};

describe('a number that was measured at a distance', () => {
  it('speaks the same way as one from the bench, and more softly the larger its error', () => {
    const [bench, photo, tape] = [low(-2.1), low(-2.1, 1), low(-2.1, 1.5)];
    expect(bench.share).toBeGreaterThan(photo.share);
    expect(photo.share).toBeGreaterThan(tape.share);
    const unknown = rankCauses(['near-too-low'], { day: 6, slips: false });
    const without = unknown.find(({ cause }) => cause.id === 'cross-too-low')!.share;
    expect(tape.share).toBeGreaterThan(without);
  });
  it('with no error weighs as if none were told', () => {
    expect(low(-2.1, 0)).toEqual(low(-2.1));
  });
  it('just inside a limit lets the other cause stand a little nearer', () => {
    expect(low(-0.8, 1).share).toBeGreaterThan(low(-0.8).share);
  });
  it('keeps the mean, the spread of each eye, and leaves the eyes independent', () => {
    const facts = readJobFacts({
      cross_above_pupil_mm: { R: -1, L: 0.5 },
      cross_above_pupil_error_mm: 1.5,
    }).facts;
    const points = mayTrulyBe('cross_above_pupil_mm', facts).map(
      ({ weight, facts: { cross_above_pupil_mm } }) => ({
        weight,
        ...(cross_above_pupil_mm as { R: number; L: number }),
      }),
    );
    const mean = (of: (point: (typeof points)[number]) => number) =>
      points.reduce((sum, point) => sum + point.weight * of(point), 0);
    expect(mean(() => 1)).toBeCloseTo(1, 12);
    expect(mean(({ R }) => R)).toBeCloseTo(-1, 12);
    expect(mean(({ R }) => (R + 1) ** 2)).toBeCloseTo(1.5 ** 2, 12);
    expect(mean(({ R, L }) => (R + 1) * (L - 0.5))).toBeCloseTo(0, 12);
  });
  it('keeps the sign of every rule and shares that sum to one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2 ** 31 }), fc.double({ min: 0.2, max: 3 }), (seed, error) => {
        const { labels, whole } = drawWearer(randomFrom(seed));
        const ranking = rankCauses(
          labels,
          readJobFacts({ ...whole, cross_above_pupil_error_mm: error, wearer_pd_error_mm: error }).facts,
        );
        expect(ranking.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
        const exact = rankCauses(labels, readJobFacts(whole).facts);
        for (const { cause, contributions } of ranking) {
          const before = exact.find((one) => one.cause === cause)!.contributions;
          for (const c of contributions) {
            const rules = cause.evidence.filter(({ finding }) => finding === c.finding);
            if (rules.length === 0) continue;
            const strongest = Math.max(...rules.map(({ times }) => Math.abs(Math.log(times))));
            expect(Math.abs(Math.log(c.timesAlone))).toBeLessThanOrEqual(strongest + 1e-12);
          }
          if (contributions.length === 0)
            expect(before.filter(({ group }) => group !== 'height')).toEqual([]);
        }
      }),
      { numRuns: 40 },
    );
  });
});

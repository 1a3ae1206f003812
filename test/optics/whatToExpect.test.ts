import { describe, expect, it } from 'vitest';
import { type EyeToCome, type JobToCome, whatToExpect } from '../../src/optics/whatToExpect.ts';
import { rx } from './lenses.ts';

const quiet: EyeToCome = { lens: rx(-1, -0.25, 180) };
const job = (right: Partial<EyeToCome>, rest: Partial<JobToCome> = {}): JobToCome => ({
  R: { ...quiet, ...right },
  L: quiet,
  ...rest,
});
const names = (given: JobToCome) => whatToExpect(given).map(({ what }) => what);

describe('what to expect', () => {
  it('a plain job with nothing known predicts nothing', () => {
    expect(whatToExpect(job({}))).toEqual([]);
  });

  it('each prediction has its number, its threshold, its source and a word of advice', () => {
    const [found] = whatToExpect(job({ addD: 2.25, previous: { addD: 1.5 } }));
    expect(found).toMatchObject({ what: 'add step', eye: 'R', number: 0.75, threshold: 0.75, unit: 'D' });
    expect(found?.source).toBe('common practice, no source');
    expect(found?.advice).not.toBe('');
  });

  it.each([
    ['add step', { addD: 2, previous: { addD: 1.5 } }, { addD: 2.25, previous: { addD: 1.5 } }, {}],
    ['high first add', { addD: 1.75 }, { addD: 2 }, { firstMultifocal: true }],
    [
      'change of power',
      { previous: { lens: rx(-1.9, -0.25, 180) } },
      { previous: { lens: rx(-2, -0.25, 180) } },
      {},
    ],
    [
      'change of power',
      { previous: { lens: rx(-1.7, -0.25, 180) } },
      { previous: { lens: rx(-1.75, -0.25, 180) } },
      { ageYears: 75 },
    ],
    ['oblique cylinder', { lens: rx(-1, -0.5, 45) }, { lens: rx(-1, -0.75, 45) }, {}],
    ['oblique cylinder', { lens: rx(-1, -1, 19) }, { lens: rx(-1, -1, 20) }, {}],
    ['oblique cylinder', { lens: rx(-1, -1, 109) }, { lens: rx(-1, -1, 110) }, {}],
    ['height near the minimum', { fittingHeightMm: 19 }, { fittingHeightMm: 18.5 }, { minimumHeightMm: 18 }],
    ['little near zone', { fittingHeightMm: 18 }, { fittingHeightMm: 17.5 }, { corridorMm: 14 }],
    [
      'base-curve step',
      { baseCurveD: 5.75, previous: { baseCurveD: 4 } },
      { baseCurveD: 2, previous: { baseCurveD: 4 } },
      {},
    ],
    ['long vertex', { vertexMm: 14.5 }, { vertexMm: 15 }, {}],
    ['anisometropia', { lens: rx(-2.9) }, { lens: rx(-3) }, {}],
    ['imbalance at reading level', { lens: rx(-2.7, 0) }, { lens: rx(-2.75, 0) }, {}],
  ] as const)('%s: %o is quiet, %o is told', (what, below, at, rest) => {
    expect(names(job(below, rest))).not.toContain(what);
    expect(names(job(at, rest))).toContain(what);
  });

  it('what is known of one pair only is no step', () => {
    expect(names(job({ baseCurveD: 8 }))).toEqual([]);
    expect(names(job({ previous: { baseCurveD: 2, addD: 1 } }))).toEqual([]);
    expect(names(job({ addD: 3 }))).toEqual([]);
  });

  it('anisometropia is told by the meridian that differs most', () => {
    const found = whatToExpect({ R: { lens: rx(-1, -2, 90) }, L: { lens: rx(-1) } });
    expect(found).toEqual([expect.objectContaining({ what: 'anisometropia', number: 2 })]);
    const upright = whatToExpect({ R: { lens: rx(-1, -2.5, 180) }, L: { lens: rx(-1) } });
    expect(upright[0]).toMatchObject({ what: 'anisometropia', number: 2.5 });
  });

  it('an oblique cylinder that was worn before is settled', () => {
    const lens = rx(-1, -1, 45);
    expect(names(job({ lens, previous: { lens } }))).toEqual([]);
    expect(names(job({ lens, previous: { lens: rx(-1, -0.5, 45) } }))).toEqual(['oblique cylinder']);
  });

  it('a strong add is no surprise to someone who wore multifocals before', () => {
    expect(names(job({ addD: 2.5 }, { firstMultifocal: false }))).toEqual([]);
    expect(names(job({ addD: 2.5 }))).toEqual([]);
  });

  it('a first multifocal from 75 years on is a fall risk', () => {
    expect(names(job({}, { firstMultifocal: true, ageYears: 75 }))).toEqual(['fall risk']);
    expect(names(job({}, { firstMultifocal: true, ageYears: 74 }))).toEqual([]);
    expect(names(job({}, { firstMultifocal: false, ageYears: 80 }))).toEqual([]);
  });

  it('the deeper one reads, the more imbalance: 1.25 D at 12 mm', () => {
    const given = job({ lens: rx(-2.5) }, { readingBelowCentreMm: 12 });
    expect(whatToExpect(given)).toEqual([
      expect.objectContaining({ what: 'imbalance at reading level', number: 1.5, unit: 'pd', eye: 'both' }),
    ]);
  });

  it('below a threshold is said so', () => {
    const found = whatToExpect(job({ fittingHeightMm: 17 }, { minimumHeightMm: 18, corridorMm: 14 }));
    expect(found).toEqual([
      expect.objectContaining({ what: 'height near the minimum', number: -1, threshold: 1, when: 'below' }),
      expect.objectContaining({ what: 'little near zone', number: 3, threshold: 4, when: 'below' }),
    ]);
  });
});

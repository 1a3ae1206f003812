import { describe, expect, it } from 'vitest';
import { prismFromCentringError } from '../../src/optics/centringError.ts';
import { decentrationForPrismMm, prismFromDecentration } from '../../src/optics/decentration.ts';
import { prismAtPoint, verticalPrismBand } from '../../src/optics/prismAtPoint.ts';
import { imbalance, resultantPrism, sumPrism } from '../../src/optics/prismSum.ts';
import {
  imbalanceFromPowersPd,
  readingLevelImbalance,
  slabOffGuidance,
} from '../../src/optics/readingImbalance.ts';
import { segmentPrismUpPd } from '../../src/optics/segmentPrism.ts';
import { thinningPrism, usualThinningUpPd } from '../../src/optics/thinningPrism.ts';
import { rx } from './lenses.ts';

describe('prism at a point', () => {
  it('reading 10 mm down through +2.00 meets 2 base up, through -2.00 2 base down', () => {
    const down = { aboveMm: -10, nasalMm: 0 };
    expect(prismAtPoint(rx(2), 'R', down)).toEqual({ upPd: 2, inPd: 0 });
    expect(prismAtPoint(rx(-2), 'L', down)).toEqual({ upPd: -2, inPd: 0 });
  });

  it('looking nasally through plus meets base out, through minus base in, whichever eye', () => {
    const nasal = { aboveMm: 0, nasalMm: 5 };
    for (const eye of ['R', 'L'] as const) {
      expect(prismAtPoint(rx(4), eye, nasal)).toEqual({ upPd: 0, inPd: -2 });
      expect(prismAtPoint(rx(-4), eye, nasal)).toEqual({ upPd: 0, inPd: 2 });
    }
  });

  it('an oblique cylinder turns a sideways look into vertical prism, opposite in the two eyes', () => {
    const nasal = { aboveMm: 0, nasalMm: 10 };
    // Cross term of -2.00 x 45: Fxy = +1.00, so 10 mm to the observer's right gives 1 base down.
    expect(prismAtPoint(rx(0, -2, 45), 'R', nasal).upPd).toBeCloseTo(-1, 9);
    expect(prismAtPoint(rx(0, -2, 45), 'L', nasal).upPd).toBeCloseTo(1, 9);
    expect(prismAtPoint(rx(0, -2, 180), 'R', nasal).upPd).toBeCloseTo(0, 9);
  });

  it('a height band without vertical power is endless, and level', () => {
    expect(verticalPrismBand(rx(0), 1)).toEqual({ halfWidthMm: Infinity, inclinationDeg: 0 });
    expect(verticalPrismBand(rx(-4), 1)).toEqual({ halfWidthMm: 2.5, inclinationDeg: 0 });
  });
});

describe('moving the optical centre', () => {
  it('plus goes with the base, minus against it', () => {
    expect(prismFromDecentration(rx(5), 'R', 4, 0).upPd).toBeCloseTo(2, 9);
    expect(prismFromDecentration(rx(-5), 'L', 0, 4).inPd).toBeCloseTo(-2, 9);
    expect(decentrationForPrismMm(rx(-5), 180, 2)).toBe(-4);
    expect(decentrationForPrismMm(rx(5, -1, 180), 90, 2)).toBe(5);
  });

  it('where there is no power no decentration gives prism', () => {
    expect(decentrationForPrismMm(rx(1, -1, 180), 90, 1)).toBeNull();
  });
});

describe('combining prism', () => {
  it.each([
    ['R', { upPd: 0, inPd: 2 }, 0],
    ['L', { upPd: 0, inPd: 2 }, 180],
    ['R', { upPd: 3, inPd: 0 }, 90],
    ['R', { upPd: -3, inPd: 0 }, 270],
    ['R', { upPd: 0, inPd: -1 }, 180],
    ['L', { upPd: -1.5, inPd: 2 }, 216.87],
  ] as const)('before the %s eye %o has its base at %s degrees', (eye, prism, baseDeg) => {
    expect(resultantPrism(eye, [prism]).baseDeg).toBeCloseTo(baseDeg, 2);
  });

  it('3 up and 4 in make 5; nothing makes nothing', () => {
    expect(
      resultantPrism('R', [
        { upPd: 3, inPd: 0 },
        { upPd: 0, inPd: 4 },
      ]).prismPd,
    ).toBe(5);
    expect(resultantPrism('R', [])).toEqual({ prismPd: 0, baseDeg: 0 });
    expect(
      sumPrism([
        { upPd: 1, inPd: 2 },
        { upPd: -3, inPd: 1 },
      ]),
    ).toEqual({ upPd: -2, inPd: 3 });
  });

  it('vertical is right minus left, horizontal adds base in', () => {
    expect(imbalance({ upPd: 1, inPd: 0.5 }, { upPd: -0.5, inPd: 0.25 })).toEqual({
      verticalPd: 1.5,
      horizontalInPd: 0.75,
    });
  });
});

describe('centring errors', () => {
  const centred = (lensD: number, madePdMm: number, wearerPdMm: number, centreAbovePupilMm = 0) => ({
    lens: rx(lensD),
    madePdMm,
    wearerPdMm,
    centreAbovePupilMm,
  });

  it('-4.00 centred 2 mm too wide on each side gives 0.8 base in each, 1.6 in all', () => {
    const found = prismFromCentringError(centred(-4, 34, 32), centred(-4, 34, 32));
    expect(found.R.inPd).toBeCloseTo(0.8, 9);
    expect(found.horizontalInPd).toBeCloseTo(1.6, 9);
    expect(found.verticalPd).toBeCloseTo(0, 9);
  });

  it('a right centre 3 mm above the pupil in +3.00 gives 0.9 base up more than the left', () => {
    const found = prismFromCentringError(centred(3, 32, 32, 3), centred(3, 32, 32));
    expect(found.verticalPd).toBeCloseTo(0.9, 9);
    expect(prismFromCentringError(centred(3, 32, 32, 3), centred(3, 32, 32, 3)).verticalPd).toBeCloseTo(0, 9);
  });

  it('height left out is level', () => {
    const { R } = prismFromCentringError(
      { lens: rx(3), madePdMm: 32, wearerPdMm: 32 },
      { lens: rx(3), madePdMm: 32, wearerPdMm: 32 },
    );
    expect(R).toEqual({ upPd: 0, inPd: 0 });
  });
});

describe('unequal lenses at reading level', () => {
  it('+2.00 and -1.50 at 10 mm: right 2 up, left 1.5 down, 3.5 between them', () => {
    const found = readingLevelImbalance(rx(2), rx(-1.5), 10);
    expect(found.R.upPd).toBeCloseTo(2, 9);
    expect(found.L.upPd).toBeCloseTo(-1.5, 9);
    expect(found.verticalPd).toBeCloseTo(3.5, 9);
    expect(imbalanceFromPowersPd(2, -1.5, 10)).toBeCloseTo(3.5, 9);
  });

  it('convergence meets the horizontal part as well', () => {
    expect(readingLevelImbalance(rx(-4), rx(-4), 10, 2).horizontalInPd).toBeCloseTo(1.6, 9);
  });

  it.each([
    [1.49, 'not needed'],
    [1.5, 'consider'],
    [6, 'consider'],
    [6.01, 'beyond slab-off'],
  ] as const)('an imbalance of %s pd: slab-off %s', (differenceD, guide) => {
    const found = slabOffGuidance(rx(-1 - differenceD), rx(-1), 10);
    expect(found.imbalancePd).toBeCloseTo(differenceD, 9);
    expect(found.guide).toBe(guide);
  });

  it('the slab goes on the most minus or least plus lens, the reverse slab on the other', () => {
    expect(slabOffGuidance(rx(-5), rx(-2), 10)).toMatchObject({ slabOffEye: 'R', reverseSlabEye: 'L' });
    expect(slabOffGuidance(rx(4), rx(1), 10)).toMatchObject({ slabOffEye: 'L', reverseSlabEye: 'R' });
    expect(slabOffGuidance(rx(2), rx(2), 10)).toMatchObject({ slabOffEye: null, reverseSlabEye: null });
  });
});

describe('segments and thinning', () => {
  it('above its centre a segment gives base down, below it base up, at it nothing', () => {
    const segment = { addD: 2, dropMm: 3, centreBelowTopMm: 5 };
    expect(segmentPrismUpPd(segment, 6)).toBeCloseTo(-0.4, 9);
    expect(segmentPrismUpPd(segment, 8)).toBeCloseTo(0, 9);
    expect(segmentPrismUpPd(segment, 10)).toBeCloseTo(0.4, 9);
  });

  it('thinning alike on both sides is no fault', () => {
    const shared = thinningPrism({ upPd: -1.5, inPd: 0 }, { upPd: -1.5, inPd: 0 });
    expect(shared).toEqual({ sharedUpPd: -1.5, leftOverVerticalPd: 0 });
  });

  it('unequal thinning shares the smaller part and leaves the rest over', () => {
    const { sharedUpPd, leftOverVerticalPd } = thinningPrism({ upPd: -2, inPd: 0 }, { upPd: -1.25, inPd: 0 });
    expect(sharedUpPd).toBe(-1.25);
    expect(leftOverVerticalPd).toBeCloseTo(-0.75, 9);
  });

  it('opposite bases share nothing', () => {
    expect(thinningPrism({ upPd: 1, inPd: 0 }, { upPd: -1, inPd: 0 })).toEqual({
      sharedUpPd: 0,
      leftOverVerticalPd: 2,
    });
  });

  it('usual thinning is two thirds of the add, base down', () => {
    expect(usualThinningUpPd(2.25)).toBeCloseTo(-1.5, 9);
  });
});

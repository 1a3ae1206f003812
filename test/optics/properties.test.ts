import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { axisDifferenceDeg } from '../../src/optics/angle.ts';
import { combineLenses } from '../../src/optics/crossedCylinders.ts';
import { differenceLens } from '../../src/optics/differenceLens.ts';
import { lensAsWorn, lensToMake, martinLens } from '../../src/optics/lensTilt.ts';
import { powerAlongMeridianD } from '../../src/optics/meridianPower.ts';
import { lensOfMatrix, powerMatrix } from '../../src/optics/powerMatrix.ts';
import { blurStrengthD, lensOfVector, powerVector } from '../../src/optics/powerVector.ts';
import { prismAtPoint } from '../../src/optics/prismAtPoint.ts';
import { imbalance, prismComponents, resultantPrism, splitPrism } from '../../src/optics/prismSum.ts';
import {
  meanPowerD,
  minusCylinder,
  plusCylinder,
  type SpheroCyl,
  transpose,
} from '../../src/optics/spheroCyl.ts';
import { compensateLensForVertex, effectiveLens } from '../../src/optics/vertexCompensation.ts';
import { anyEye, anyLens, mirrored } from './lenses.ts';

const angle = fc.integer({ min: 0, max: 360 });
const step = fc.integer({ min: -150, max: 150 }).map((n) => n / 10);
const point = fc.record({ aboveMm: step, nasalMm: step });
const prism = fc.record({ upPd: step, inPd: step });
const pose = fc.record({
  eye: anyEye,
  tiltDeg: fc.integer({ min: -10, max: 20 }),
  wrapDeg: fc.integer({ min: 0, max: 20 }),
  index: fc.constantFrom(1.498, 1.586, 1.67, 1.74),
});

// Two ways of writing one lens: powers alike, and axes alike wherever there is a cylinder to have one.
const expectSameLens = (one: SpheroCyl, other: SpheroCyl): void => {
  const a = minusCylinder(one);
  const b = minusCylinder(other);
  expect(a.sphereD).toBeCloseTo(b.sphereD, 8);
  expect(a.cylinderD).toBeCloseTo(b.cylinderD, 8);
  if (Math.abs(a.cylinderD) > 1e-6) expect(axisDifferenceDeg(a.axisDeg, b.axisDeg)).toBeLessThan(1e-5);
};

const holds = <T>(arbitrary: fc.Arbitrary<T>, rule: (value: T) => void): void =>
  fc.assert(fc.property(arbitrary, rule), { numRuns: 300, seed: 20261125 });

describe('powers', () => {
  it('transposed twice is the lens that it was', () => {
    holds(anyLens, (lens) => {
      expect(transpose(transpose(lens)).sphereD).toBeCloseTo(lens.sphereD, 10);
      expect(transpose(transpose(lens))).toMatchObject({
        cylinderD: lens.cylinderD,
        axisDeg: lens.axisDeg,
      });
    });
  });

  it('plus and minus form are one lens, each with the sign of its name', () => {
    holds(anyLens, (lens) => {
      expect(minusCylinder(lens).cylinderD).toBeLessThanOrEqual(0);
      expect(plusCylinder(lens).cylinderD).toBeGreaterThanOrEqual(0);
      expectSameLens(minusCylinder(lens), plusCylinder(lens));
      expect(meanPowerD(transpose(lens))).toBeCloseTo(meanPowerD(lens), 10);
    });
  });

  it('by vector and by matrix a lens comes back as itself', () => {
    holds(anyLens, (lens) => {
      expectSameLens(lensOfVector(powerVector(lens)), lens);
      expectSameLens(lensOfMatrix(powerMatrix(lens)), lens);
    });
  });

  it('adding two lenses by vectors and by matrices gives one answer', () => {
    holds(fc.tuple(anyLens, anyLens), ([one, other]) => {
      const a = powerMatrix(one);
      const b = powerMatrix(other);
      const byMatrix = lensOfMatrix({ xxD: a.xxD + b.xxD, xyD: a.xyD + b.xyD, yyD: a.yyD + b.yyD });
      expectSameLens(combineLenses([one, other]), byMatrix);
    });
  });

  it('the difference lens laid on the ordered lens gives the measured one', () => {
    holds(fc.tuple(anyLens, anyLens), ([measured, ordered]) => {
      const { lens, meanD, blurD } = differenceLens(measured, ordered);
      expectSameLens(combineLenses([ordered, lens]), measured);
      expect(meanD).toBeCloseTo(meanPowerD(measured) - meanPowerD(ordered), 10);
      expect(blurD).toBeCloseTo(blurStrengthD(powerVector(lens)), 10);
    });
  });

  it('power along any meridian lies between the principal powers, and that of two crossed meridians adds to their sum', () => {
    holds(fc.tuple(anyLens, angle), ([lens, meridianDeg]) => {
      const power = powerAlongMeridianD(lens, meridianDeg);
      const [low, high] = [lens.sphereD, lens.sphereD + lens.cylinderD].sort((a, b) => a - b);
      expect(power).toBeGreaterThanOrEqual((low as number) - 1e-9);
      expect(power).toBeLessThanOrEqual((high as number) + 1e-9);
      expect(power + powerAlongMeridianD(lens, meridianDeg + 90)).toBeCloseTo(2 * meanPowerD(lens), 9);
    });
  });

  it('power along 180 and 90 are the corners of the matrix', () => {
    holds(anyLens, (lens) => {
      expect(powerMatrix(lens).xxD).toBeCloseTo(powerAlongMeridianD(lens, 180), 10);
      expect(powerMatrix(lens).yyD).toBeCloseTo(powerAlongMeridianD(lens, 90), 10);
    });
  });
});

describe('position of wear', () => {
  const vertices = fc.tuple(fc.integer({ min: 6, max: 20 }), fc.integer({ min: 6, max: 20 }));

  it('vertex compensation undone returns the order', () => {
    holds(fc.tuple(anyLens, vertices), ([lens, [refractedMm, wornMm]]) => {
      const made = compensateLensForVertex(lens, refractedMm, wornMm);
      expectSameLens(effectiveLens(made, refractedMm, wornMm), lens);
      expectSameLens(compensateLensForVertex(made, wornMm, refractedMm), lens);
    });
  });

  it('a lens made for its tilt and wrap gives the wearer the order', () => {
    holds(fc.tuple(anyLens, pose), ([lens, worn]) =>
      expectSameLens(lensAsWorn(lensToMake(lens, worn), worn), lens),
    );
  });

  it('no tilt and no wrap change nothing', () => {
    holds(fc.tuple(anyLens, pose), ([lens, worn]) =>
      expectSameLens(lensAsWorn(lens, { ...worn, tiltDeg: 0, wrapDeg: 0 }), lens),
    );
  });

  it('right and left are mirror images in tilt and wrap', () => {
    holds(fc.tuple(anyLens, pose), ([lens, worn]) => {
      const right = lensAsWorn(lens, { ...worn, eye: 'R' });
      expectSameLens(mirrored(minusCylinder(right)), lensAsWorn(mirrored(lens), { ...worn, eye: 'L' }));
    });
  });

  it('Martin stays within 0.25 % of the exact form up to 20 degrees in all', () => {
    const mild = pose.filter(({ tiltDeg, wrapDeg }) => Math.hypot(tiltDeg, wrapDeg) <= 20);
    holds(fc.tuple(anyLens, mild), ([lens, worn]) => {
      const apart = differenceLens(martinLens(lens, worn), lensAsWorn(lens, worn)).blurD;
      expect(apart).toBeLessThanOrEqual(0.0025 * blurStrengthD(powerVector(lensAsWorn(lens, worn))) + 1e-9);
    });
  });
});

describe('prism', () => {
  it('is linear in displacement: the prism of a sum is the sum of the prisms', () => {
    holds(fc.tuple(anyLens, anyEye, point, point), ([lens, eye, one, other]) => {
      const both = prismAtPoint(lens, eye, {
        aboveMm: one.aboveMm + other.aboveMm,
        nasalMm: one.nasalMm + other.nasalMm,
      });
      const a = prismAtPoint(lens, eye, one);
      const b = prismAtPoint(lens, eye, other);
      expect(both.upPd).toBeCloseTo(a.upPd + b.upPd, 8);
      expect(both.inPd).toBeCloseTo(a.inPd + b.inPd, 8);
    });
  });

  it('two lenses in contact give the sum of their prisms', () => {
    holds(fc.tuple(anyLens, anyLens, anyEye, point), ([one, other, eye, at]) => {
      const both = prismAtPoint(combineLenses([one, other]), eye, at);
      expect(both.upPd).toBeCloseTo(prismAtPoint(one, eye, at).upPd + prismAtPoint(other, eye, at).upPd, 8);
      expect(both.inPd).toBeCloseTo(prismAtPoint(one, eye, at).inPd + prismAtPoint(other, eye, at).inPd, 8);
    });
  });

  it('mirrored lenses give both eyes the same prism, up and in', () => {
    holds(fc.tuple(anyLens, point), ([lens, at]) => {
      const right = prismAtPoint(lens, 'R', at);
      const left = prismAtPoint(mirrored(lens), 'L', at);
      expect(left.upPd).toBeCloseTo(right.upPd, 8);
      expect(left.inPd).toBeCloseTo(right.inPd, 8);
    });
  });

  it('a resultant taken apart gives its components back', () => {
    holds(fc.tuple(anyEye, prism), ([eye, wanted]) => {
      const found = prismComponents(eye, resultantPrism(eye, [wanted]));
      expect(found.upPd).toBeCloseTo(wanted.upPd, 8);
      expect(found.inPd).toBeCloseTo(wanted.inPd, 8);
    });
  });

  it('a split prism leaves the imbalance of the pair as it was, shared evenly', () => {
    holds(fc.tuple(prism, prism), ([right, left]) => {
      const { R, L } = splitPrism(right, left);
      expect(imbalance(R, L).verticalPd).toBeCloseTo(imbalance(right, left).verticalPd, 8);
      expect(imbalance(R, L).horizontalInPd).toBeCloseTo(imbalance(right, left).horizontalInPd, 8);
      expect(R.upPd).toBeCloseTo(-L.upPd, 8);
      expect(R.inPd).toBeCloseTo(L.inPd, 8);
    });
  });
});

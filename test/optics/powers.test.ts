import { describe, expect, it } from 'vitest';
import { asAxis, axisDifferenceDeg } from '../../src/optics/angle.ts';
import { combineLenses } from '../../src/optics/crossedCylinders.ts';
import { axisErrorLeavingDeg, differenceLens, residualCylinderD } from '../../src/optics/differenceLens.ts';
import { lensOfVector } from '../../src/optics/powerVector.ts';
import { lensWritten, powerWritten, roundToStep } from '../../src/optics/rounding.ts';
import { minusCylinder, principalPowers, strongerMeridianD, transpose } from '../../src/optics/spheroCyl.ts';
import { curveVariationFactor, nominalPowerD, sagitta, vogelBaseCurveD } from '../../src/optics/surfaces.ts';
import { backSurfaceForD, backVertexPowerD, frontVertexPowerD } from '../../src/optics/vertexPowers.ts';
import { rx } from './lenses.ts';

describe('axes', () => {
  it.each([
    [0, 180],
    [180, 180],
    [360, 180],
    [-10, 170],
    [190, 10],
    [0.4, 0.4],
    [1e-12, 180],
  ])('%s degrees is written %s', (given, written) => {
    expect(asAxis(given)).toBeCloseTo(written, 9);
  });

  it.each([
    [178, 2, 4],
    [2, 178, 4],
    [180, 1, 1],
    [45, 135, 90],
    [10, 100, 90],
    [90, 90, 0],
  ])('axes %s and %s are %s degrees apart, round the circle', (one, other, apart) => {
    expect(axisDifferenceDeg(one, other)).toBeCloseTo(apart, 9);
  });
});

describe('writing a lens in another form', () => {
  it('axis 90 transposes to 180 and never to 0', () => {
    expect(transpose(rx(1, -2, 90))).toEqual(rx(-1, 2, 180));
    expect(transpose(rx(-1, 2, 180))).toEqual(rx(1, -2, 90));
  });

  it('a lens without cylinder gets axis 180 and no minus zero', () => {
    expect(minusCylinder({ sphereD: 2, cylinderD: 0, axisDeg: 37 })).toEqual(rx(2));
    expect(Object.is(transpose(rx(2)).cylinderD, 0)).toBe(true);
    expect(lensOfVector({ meanD: 1, j0D: 0, j45D: 0 })).toEqual(rx(1));
  });

  it('the principal powers stand along and across the axis', () => {
    expect(principalPowers(rx(-2, -1.5, 170))).toEqual({
      alongAxis: { powerD: -2, meridianDeg: 170 },
      acrossAxis: { powerD: -3.5, meridianDeg: 80 },
    });
    expect(strongerMeridianD(rx(1, -4, 90))).toBe(3);
    expect(strongerMeridianD(rx(3, -4, 90))).toBe(3);
  });

  it('two equal and opposite cylinders at one axis cancel', () => {
    expect(combineLenses([rx(0, -2, 33), rx(0, 2, 33)])).toEqual(rx(0));
  });
});

describe('difference between two lenses', () => {
  it('an axis error of 10 degrees on 2.00 D leaves 0.69 D of cylinder and no mean change', () => {
    const { lens, meanD, blurD } = differenceLens(rx(-2, -2, 100), rx(-2, -2, 90));
    expect(residualCylinderD(-2, 10)).toBeCloseTo(0.6946, 4);
    expect(-lens.cylinderD).toBeCloseTo(residualCylinderD(-2, 10), 9);
    expect(meanD).toBeCloseTo(0, 9);
    expect(blurD).toBeCloseTo(0.3473, 4);
  });

  it('half a dioptre more plus shows as mean change with its sign', () => {
    expect(differenceLens(rx(1.5), rx(1)).meanD).toBe(0.5);
    expect(differenceLens(rx(1), rx(1.5)).meanD).toBe(-0.5);
  });

  it('a cylinder too weak to leave the residual at all has no axis error that does: 90', () => {
    expect(axisErrorLeavingDeg(0.05, 0.12)).toBe(90);
    expect(axisErrorLeavingDeg(0, 0)).toBe(90);
    expect(axisErrorLeavingDeg(-0.75, 0.12)).toBeCloseTo(4.59, 2);
  });
});

describe('thick lenses and surfaces', () => {
  const strong = { frontSurfaceD: 10.25, backSurfaceD: -3, centreThicknessMm: 4, index: 1.586 };

  it('a strong plus lens reads weaker from the front (NFOS worksheet form)', () => {
    expect(backVertexPowerD(strong)).toBeCloseTo(7.52, 2);
    expect(frontVertexPowerD(strong)).toBeLessThan(backVertexPowerD(strong));
  });

  it('without thickness front and back vertex power are the sum of the surfaces', () => {
    expect(backVertexPowerD({ ...strong, centreThicknessMm: 0 })).toBe(7.25);
    expect(frontVertexPowerD({ ...strong, centreThicknessMm: 0 })).toBe(7.25);
  });

  it('the back surface found for a power gives that power', () => {
    const backSurfaceD = backSurfaceForD(5, strong);
    expect(backVertexPowerD({ ...strong, backSurfaceD })).toBeCloseTo(5, 10);
  });

  it('the true sag is more than the short rule, and there is none beyond the sphere', () => {
    const { sagMm, exactSagMm } = sagitta(6, 1.53, 50);
    expect(sagMm).toBeCloseTo(3.538, 3);
    expect(exactSagMm).toBeCloseTo(3.612, 3);
    expect(sagitta(20, 1.53, 70).exactSagMm).toBeNull();
    expect(sagitta(-6, 1.53, 50).exactSagMm).toBeCloseTo(-3.612, 3);
  });

  it.each([
    ['meniscus', 0.1, 0.2, 2.5],
    ['biconvex', 0.1, 0.2, 7.5],
    ['biconcave', 0.1, 0.2, -7.5],
    ['plano-convex', null, 0.2, 2.5],
    ['plano-convex', 0.2, null, 2.5],
    ['plano-concave', null, 0.2, -2.5],
  ] as const)('%s with radii %s and %s m has %s D at 1.5', (form, frontM, backM, powerD) => {
    expect(nominalPowerD(form, frontM, backM, 1.5)).toBeCloseTo(powerD, 9);
  });

  it('base curve: plano takes the plus rule, and minus half of its power', () => {
    expect(vogelBaseCurveD(0)).toBe(6);
    expect(vogelBaseCurveD(2)).toBe(8);
    expect(vogelBaseCurveD(-5)).toBe(3.5);
  });

  it('a denser material is flatter, crown glass itself the measure', () => {
    expect(curveVariationFactor(1.523)).toBe(1);
    expect(curveVariationFactor(1.7)).toBeCloseTo(0.747, 3);
  });
});

describe('rounding as the trade writes', () => {
  it.each([
    [0.125, 0.25, 0.25],
    [-0.125, 0.25, -0.25],
    [0.1249, 0.25, 0],
    [-2.37, 0.25, -2.25],
    [-2.38, 0.25, -2.5],
    [1.3, 0.125, 1.25],
    [0.145, 0.01, 0.15],
    [18.24, 0.5, 18],
    [37, 15, 30],
    [1.4, 0.3, 1.5],
    [-0.001, 0.01, 0],
  ])('%s to steps of %s is %s', (value, step, rounded) => {
    expect(roundToStep(value, step)).toBe(rounded);
  });

  it.each([
    [rx(-2, -0.5, 180), '-2.00 -0.50 x 180'],
    [rx(0, -0.75, 90), 'plano -0.75 x 90'],
    [rx(1.25), '+1.25'],
    [rx(0), 'plano'],
    [rx(1, -1, 0.3), '+1.00 -1.00 x 180'],
    [rx(-0.004, -0.004, 12), 'plano'],
  ])('%o is written %s', (lens, written) => {
    expect(lensWritten(lens)).toBe(written);
  });

  it('plus has its sign written', () => {
    expect(powerWritten(0.5)).toBe('+0.50');
  });
});

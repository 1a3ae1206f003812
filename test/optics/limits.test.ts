import { describe, expect, it } from 'vitest';
import { isWithin, type Limit } from '../../src/optics/limit.ts';
import { checkPower } from '../../src/optics/limits.ts';
import {
  ansiAddLimit,
  ansiAxisLimit,
  ansiBaseCurveLimit,
  ansiCylinderLimit,
  ansiHeightLimits,
  ansiHorizontalImbalanceLimit,
  ansiMarksTiltLimit,
  ansiPrismPointWithin,
  ansiSidewaysLimit,
  ansiSphereLimit,
  ansiThicknessLimit,
  ansiVerticalImbalanceLimit,
  ansiWarpageLimit,
} from '../../src/optics/limitsAnsi.ts';
import {
  isoAddLimit,
  isoAxisLimit,
  isoAxisRangeDeg,
  isoCylinderLimit,
  isoHorizontalImbalanceLimit,
  isoMarksTiltLimit,
  isoMeridianLimit,
  isoPlaceLimit,
  isoThicknessLimit,
  isoVerticalImbalanceLimit,
} from '../../src/optics/limitsIso.ts';
import { rx } from './lenses.ts';

const dioptres = (limit: number): Limit => ({ limit, unit: 'D', source: 'made for this test' });

describe('inside a limit', () => {
  it('0.12 may stand for 0.125: on the limit and a rounding beyond it is inside, 0.01 beyond is out', () => {
    expect(isWithin(0.125, dioptres(0.12))).toBe(true);
    expect(isWithin(-0.125, dioptres(0.12))).toBe(true);
    expect(isWithin(0.13, dioptres(0.12))).toBe(false);
    expect(isWithin(-5.37 + 5.25, dioptres(0.12))).toBe(true);
  });

  it('millimetres and degrees have no such allowance', () => {
    expect(isWithin(1.004, { ...dioptres(1), unit: 'mm' })).toBe(false);
    expect(isWithin(1, { ...dioptres(1), unit: 'mm' })).toBe(true);
    expect(isWithin(2.004, { ...dioptres(2), unit: 'deg' })).toBe(false);
  });

  it('what is no number is never inside', () => {
    expect(isWithin(Number.NaN, dioptres(0.12))).toBe(false);
  });
});

describe('ANSI Z80.1', () => {
  it.each([
    [0, 'single vision', 0.13],
    [-6.5, 'single vision', 0.13],
    [-7, 'multifocal', 0.14],
    [8, 'progressive', 0.16],
    [-8, 'progressive', 0.16],
    [9, 'progressive', 0.18],
  ] as const)('sphere %s in %s: %s', (sphereD, kind, limit) => {
    expect(ansiSphereLimit(sphereD, kind).limit).toBeCloseTo(limit, 9);
  });

  it.each([
    [-2, 'single vision', 0.13],
    [-2.25, 'single vision', 0.15],
    [-4.5, 'multifocal', 0.15],
    [-5, 'single vision', 0.2],
    [-2, 'progressive', 0.16],
    [-3.5, 'progressive', 0.18],
    [-4, 'progressive', 0.2],
  ] as const)('cylinder %s in %s: %s', (cylinderD, kind, limit) => {
    expect(ansiCylinderLimit(cylinderD, kind).limit).toBeCloseTo(limit, 9);
  });

  it.each([
    [0.12, 14],
    [-0.25, 14],
    [0.37, 7],
    [0.5, 7],
    [0.75, 5],
    [1, 3],
    [1.5, 3],
    [1.75, 2],
  ])('axis of a %s cylinder: %s degrees', (cylinderD, limit) => {
    expect(ansiAxisLimit(cylinderD)?.limit).toBe(limit);
  });

  it('under 0.12 there is no axis limit', () => {
    expect(ansiAxisLimit(0.1)).toBeNull();
    expect(ansiAxisLimit(0)).toBeNull();
  });

  it('add to 4.00 is held to 0.12, over it to 0.18', () => {
    expect(ansiAddLimit(4).limit).toBe(0.12);
    expect(ansiAddLimit(4.25).limit).toBe(0.18);
  });

  it('prism at the point passes by size or by place', () => {
    expect(ansiPrismPointWithin(0.33, null)).toBe(true);
    expect(ansiPrismPointWithin(0.4, 1)).toBe(true);
    expect(ansiPrismPointWithin(0.4, 1.1)).toBe(false);
    expect(ansiPrismPointWithin(0.4, null)).toBe(false);
  });

  it('vertical imbalance changes over to millimetres only when both lenses are over 3.375', () => {
    expect(ansiVerticalImbalanceLimit(-3.375, -8)).toMatchObject({ limit: 0.33, unit: 'pd' });
    expect(ansiVerticalImbalanceLimit(-3.5, -3.5)).toMatchObject({ limit: 1, unit: 'mm' });
  });

  it('horizontal imbalance: 0.67 pd, then 2.5 mm, for progressives 1 mm from 3.75 on', () => {
    expect(ansiHorizontalImbalanceLimit(2.75, 'single vision')).toMatchObject({ limit: 0.67, unit: 'pd' });
    expect(ansiHorizontalImbalanceLimit(-3, 'multifocal')).toMatchObject({ limit: 2.5, unit: 'mm' });
    expect(ansiHorizontalImbalanceLimit(3.75, 'progressive')).toMatchObject({ limit: 0.67, unit: 'pd' });
    expect(ansiHorizontalImbalanceLimit(4, 'progressive')).toMatchObject({ limit: 1, unit: 'mm' });
  });

  it('between the editions the progressive change-over is marked', () => {
    expect(ansiHorizontalImbalanceLimit(3.5, 'progressive').caution).toContain('confirm against your copy');
    expect(ansiHorizontalImbalanceLimit(3, 'progressive').caution).toBeUndefined();
  });

  it('heights, place and marks', () => {
    expect(ansiHeightLimits('multifocal')).toMatchObject({ each: { limit: 1 }, pair: { limit: 1 } });
    expect(ansiHeightLimits('progressive').pair.caution).toContain('confirm');
    expect(ansiSidewaysLimit('progressive')).toMatchObject({ limit: 1, unit: 'mm' });
    expect(ansiSidewaysLimit('multifocal').limit).toBe(2.5);
    expect(ansiMarksTiltLimit('multifocal')).toMatchObject({ limit: 2, unit: 'deg' });
    expect(ansiMarksTiltLimit('progressive').caution).toContain('from memory');
  });

  it('base curve 0.75 D, thickness 0.3 mm, warpage 1.00 D', () => {
    expect(ansiBaseCurveLimit()).toMatchObject({ limit: 0.75, unit: 'D' });
    expect(ansiThicknessLimit()).toMatchObject({ limit: 0.3, unit: 'mm' });
    expect(ansiWarpageLimit()).toMatchObject({ limit: 1, unit: 'D' });
  });
});

describe('ISO 21987', () => {
  it.each([
    [3, 'progressive', 0.12],
    [6, 'progressive', 0.12],
    [9, 'progressive', 0.18],
    [9, 'single vision', 0.12],
    [12, 'single vision', 0.18],
    [20, 'progressive', 0.25],
    [21, 'single vision', 0.37],
  ] as const)('meridian to %s D in %s: %s', (strongerD, kind, limit) => {
    expect(isoMeridianLimit(strongerD, kind).limit).toBe(limit);
  });

  it.each([
    [2, -0.75, 'single vision', 0.09],
    [2, -0.75, 'progressive', 0.12],
    [2, -1, 'progressive', 0.18],
    [2, -6, 'single vision', 0.18],
    [2, -6.5, 'progressive', 0.25],
    [25, -5, 'single vision', 0.37],
  ] as const)('cylinder with %s D: %s in %s: %s', (strongerD, cylinderD, kind, limit) => {
    expect(isoCylinderLimit(strongerD, cylinderD, kind).limit).toBe(limit);
  });

  // The table as it is remembered, row by row: cylinder to 0.75, 4.00, 6.00 and over, single vision then progressive.
  it.each([
    [3, [0.09, 0.12], [0.12, 0.18], [0.18, 0.18], [0.18, 0.25]],
    [6, [0.12, 0.12], [0.12, 0.18], [0.18, 0.18], [0.25, 0.25]],
    [9, [0.12, 0.18], [0.18, 0.18], [0.18, 0.18], [0.25, 0.25]],
    [12, [0.12, 0.18], [0.18, 0.18], [0.25, 0.25], [0.25, 0.25]],
    [20, [0.18, 0.18], [0.25, 0.25], [0.25, 0.25], [0.25, 0.25]],
    [21, [0.25, 0.25], [0.25, 0.25], [0.37, 0.37], [0.37, 0.37]],
  ] as const)('the row of cylinders to %s D', (toD, ...row) => {
    const at = (cylinderD: number) =>
      (['single vision', 'progressive'] as const).map((kind) => isoCylinderLimit(toD, cylinderD, kind).limit);
    expect([0.75, 4, 6, 6.25].map(at)).toEqual(row);
    if (toD < 21)
      expect(isoCylinderLimit(toD + 0.25, 0.75, 'single vision').limit).toBe(toD === 3 ? 0.12 : nextRow[toD]);
  });
  const nextRow: Readonly<Record<number, number>> = { 6: 0.12, 9: 0.12, 12: 0.18, 20: 0.25 };

  it.each([
    [3.25, 0.12],
    [6.25, 0.18],
    [9.25, 0.18],
    [12.25, 0.25],
    [20.25, 0.37],
  ])('just over a band, %s D of a progressive, the next band holds: %s', (strongerD, limit) => {
    expect(isoMeridianLimit(strongerD, 'progressive').limit).toBe(limit);
  });

  it.each([
    [0.25, 16],
    [0.37, 9],
    [0.62, 6],
    [1, 4],
    [1.75, 3],
    [2, 3],
    [0.5, 9],
    [0.75, 6],
    [1.5, 4],
    [2.5, 3],
    [2.75, 2],
  ])('axis of a %s cylinder: %s degrees', (cylinderD, limit) => {
    expect(isoAxisLimit(-cylinderD)?.limit).toBe(limit);
  });

  it('the ends of the axis table are those that were read: 2 and 16', () => {
    expect(isoAxisRangeDeg()).toMatchObject({ smallestDeg: 2, largestDeg: 16 });
    expect(isoAxisLimit(0)).toBeNull();
  });

  it('relative prism in pd, then in millimetres', () => {
    expect(isoVerticalImbalanceLimit(5, 9)).toMatchObject({ limit: 0.5, unit: 'pd' });
    expect(isoVerticalImbalanceLimit(5.5, 9)).toMatchObject({ limit: 1, unit: 'mm' });
    expect(isoHorizontalImbalanceLimit(-3.25)).toMatchObject({ limit: 0.67, unit: 'pd' });
    expect(isoHorizontalImbalanceLimit(3.5)).toMatchObject({ limit: 2, unit: 'mm' });
  });

  it('add, place and tilt', () => {
    expect(isoAddLimit(4).limit).toBe(0.12);
    expect(isoAddLimit(4.25).limit).toBe(0.18);
    expect(isoPlaceLimit().limit).toBe(1);
    expect(isoMarksTiltLimit().limit).toBe(2);
  });

  it('all that is from memory says so; what was read does not', () => {
    for (const limit of [
      isoMeridianLimit(2, 'progressive'),
      isoAxisLimit(1),
      isoAddLimit(2),
      isoPlaceLimit(),
    ]) {
      expect(limit?.caution).toContain('confirm against your copy of the standard');
    }
    expect(isoThicknessLimit()).toEqual({ limit: 0.3, unit: 'mm', source: 'ISO 8980-1:2004' });
  });
});

describe('one lens against its power', () => {
  it('in whichever cylinder form it is read', () => {
    const check = checkPower(rx(0.5, 1, 91), rx(1.5, -1, 180), 'progressive', 'ANSI Z80.1');
    expect(check).toMatchObject({ within: true, sphere: { errorD: 0 }, axis: { errorDeg: 1 } });
  });

  it('axis 178 against 2 with 1.25 D is 4 degrees and out', () => {
    const check = checkPower(rx(-1, -1.25, 2), rx(-1, -1.25, 178), 'single vision', 'ANSI Z80.1');
    expect(check.axis).toMatchObject({ errorDeg: 4, within: false });
    expect(check.within).toBe(false);
  });

  it('errors are measured minus expected', () => {
    const check = checkPower(rx(-2.25, -1, 90), rx(-2, -0.75, 90), 'progressive', 'ISO 21987');
    expect(check.sphere.errorD).toBe(-0.25);
    expect(check.cylinder.errorD).toBe(-0.25);
    expect(check.within).toBe(false);
  });

  it('a reading without cylinder has no axis to be wrong', () => {
    const check = checkPower(rx(-1), rx(-1, -0.25, 90), 'progressive', 'ANSI Z80.1');
    expect(check.axis).toMatchObject({ errorDeg: 0 });
    expect(check.cylinder.within).toBe(false);
  });
});

import { axisDifferenceDeg } from './angle.ts';
import { isWithin, type LensKind, type Limit, type Standard } from './limit.ts';
import {
  ansiAddLimit,
  ansiAxisLimit,
  ansiCylinderLimit,
  ansiHeightLimits,
  ansiHorizontalImbalanceLimit,
  ansiMarksTiltLimit,
  ansiSidewaysLimit,
  ansiSphereLimit,
  ansiThicknessLimit,
  ansiVerticalImbalanceLimit,
} from './limitsAnsi.ts';
import {
  isoAddLimit,
  isoAxisLimit,
  isoCylinderLimit,
  isoHorizontalImbalanceLimit,
  isoMarksTiltLimit,
  isoMeridianLimit,
  isoPlaceLimit,
  isoThicknessLimit,
  isoVerticalImbalanceLimit,
} from './limitsIso.ts';
import { minusCylinder, type SpheroCyl, strongerMeridianD } from './spheroCyl.ts';

/** The limits of the power of one lens by the chosen standard, from the powers that it is compared with. */
export const powerLimits = (expected: SpheroCyl, kind: LensKind, standard: Standard) => {
  const { sphereD, cylinderD } = minusCylinder(expected);
  const strongerD = strongerMeridianD(expected);
  return standard === 'ISO 21987'
    ? {
        sphere: isoMeridianLimit(strongerD, kind),
        cylinder: isoCylinderLimit(strongerD, cylinderD, kind),
        axis: isoAxisLimit(cylinderD),
      }
    : {
        sphere: ansiSphereLimit(sphereD, kind),
        cylinder: ansiCylinderLimit(cylinderD, kind),
        axis: ansiAxisLimit(cylinderD),
      };
};

export type PowerCheck = {
  readonly sphere: { readonly errorD: number; readonly limit: Limit; readonly within: boolean };
  readonly cylinder: { readonly errorD: number; readonly limit: Limit; readonly within: boolean };
  /** `null` where the cylinder is too weak for an axis limit. */
  readonly axis: { readonly errorDeg: number; readonly limit: Limit; readonly within: boolean } | null;
  readonly within: boolean;
};

/**
 * One lens as read against what it is compared with, both in minus cylinder form. Compare with the lab's as-worn
 * powers where they are given, and not with the prescription (trade article on the 2015 edition; ISO 8980-1:2004 says
 * the same of the maker's corrected value). Errors are measured minus expected; the axis error is without sign.
 */
export const checkPower = (
  measured: SpheroCyl,
  expected: SpheroCyl,
  kind: LensKind,
  standard: Standard,
): PowerCheck => {
  const found = minusCylinder(measured);
  const wanted = minusCylinder(expected);
  const limits = powerLimits(expected, kind, standard);
  const sphereD = found.sphereD - wanted.sphereD;
  const cylinderD = found.cylinderD - wanted.cylinderD;
  const sphere = { errorD: sphereD, limit: limits.sphere, within: isWithin(sphereD, limits.sphere) };
  const cylinder = {
    errorD: cylinderD,
    limit: limits.cylinder,
    within: isWithin(cylinderD, limits.cylinder),
  };
  const axis = limits.axis === null ? null : axisCheck(found, wanted, limits.axis);
  return { sphere, cylinder, axis, within: sphere.within && cylinder.within && (axis?.within ?? true) };
};

export const addLimit = (addD: number, standard: Standard): Limit =>
  standard === 'ISO 21987' ? isoAddLimit(addD) : ansiAddLimit(addD);

export const verticalImbalanceLimit = (
  rightPower90D: number,
  leftPower90D: number,
  standard: Standard,
): Limit =>
  standard === 'ISO 21987'
    ? isoVerticalImbalanceLimit(rightPower90D, leftPower90D)
    : ansiVerticalImbalanceLimit(rightPower90D, leftPower90D);

export const horizontalImbalanceLimit = (power180D: number, kind: LensKind, standard: Standard): Limit =>
  standard === 'ISO 21987'
    ? isoHorizontalImbalanceLimit(power180D)
    : ansiHorizontalImbalanceLimit(power180D, kind);

export const heightLimits = (kind: LensKind, standard: Standard) =>
  standard === 'ISO 21987' ? { each: isoPlaceLimit(), pair: isoPlaceLimit() } : ansiHeightLimits(kind);

export const sidewaysLimit = (kind: LensKind, standard: Standard): Limit =>
  standard === 'ISO 21987' ? isoPlaceLimit() : ansiSidewaysLimit(kind);

export const marksTiltLimit = (kind: LensKind, standard: Standard): Limit =>
  standard === 'ISO 21987' ? isoMarksTiltLimit() : ansiMarksTiltLimit(kind);

export const thicknessLimit = (standard: Standard): Limit =>
  standard === 'ISO 21987' ? isoThicknessLimit() : ansiThicknessLimit();

// A reading with no cylinder has no axis to be wrong: the cylinder line tells that trouble.
const axisCheck = (found: SpheroCyl, wanted: SpheroCyl, limit: Limit): PowerCheck['axis'] => {
  const errorDeg = found.cylinderD === 0 ? 0 : axisDifferenceDeg(found.axisDeg, wanted.axisDeg);
  return { errorDeg, limit, within: isWithin(errorDeg, limit) };
};

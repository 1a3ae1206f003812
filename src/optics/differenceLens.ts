import { degrees, radians } from './angle.ts';
import { blurStrengthD, lensOfVector, powerVector } from './powerVector.ts';
import type { SpheroCyl } from './spheroCyl.ts';

export type Difference = {
  /** The difference as a lens, minus cylinder form. */
  readonly lens: SpheroCyl;
  /** Change of mean power, + when the first lens is more plus. */
  readonly meanD: number;
  /** Size of the change in all, never negative. */
  readonly blurD: number;
};

/**
 * Difference lens: the first (measured or new) minus the second (ordered or old), by power vectors. Dioptres. Report
 * mean, cylinder and axis apart: an axis error alone leaves the mean unchanged. Exact for thin lenses.
 * Source: Thibos, Wheeler, Horner, Optom Vis Sci 1997;74:367-375 (formulas from memory).
 */
export const differenceLens = (measured: SpheroCyl, ordered: SpheroCyl): Difference => {
  const one = powerVector(measured);
  const other = powerVector(ordered);
  const vector = {
    meanD: one.meanD - other.meanD,
    j0D: one.j0D - other.j0D,
    j45D: one.j45D - other.j45D,
  };
  return { lens: lensOfVector(vector), meanD: vector.meanD, blurD: blurStrengthD(vector) };
};

/**
 * Cylinder left over by an axis error d on a cylinder C: 2 |C| sin d, dioptres, d from 0 to 90 degrees.
 * Source: D. Torgersen, white paper on ANSI Z80.1-2005 (March 2006).
 */
export const residualCylinderD = (cylinderD: number, axisErrorDeg: number): number =>
  2 * Math.abs(cylinderD) * Math.sin(radians(Math.abs(axisErrorDeg)));

/**
 * Axis error that leaves a given residual cylinder r: asin(r / 2|C|), degrees. Where r is 2|C| or more, no axis error
 * leaves that much, so the answer is 90. Source: as `residualCylinderD`, the basis of the axis limits.
 */
export const axisErrorLeavingDeg = (cylinderD: number, residualD: number): number => {
  const sine = residualD / (2 * Math.abs(cylinderD));
  return sine >= 1 || Number.isNaN(sine) ? 90 : degrees(Math.asin(sine));
};

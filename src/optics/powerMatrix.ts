import { radians } from './angle.ts';
import { lensOfVector } from './powerVector.ts';
import type { SpheroCyl } from './spheroCyl.ts';

/** Symmetric dioptric power matrix; x is to the observer's right (facing the wearer), y is up. Dioptres. */
export type PowerMatrix = { readonly xxD: number; readonly xyD: number; readonly yyD: number };

/**
 * Power matrix of a lens: Fxx = S + C sin² A, Fxy = -C sin A cos A, Fyy = S + C cos² A. Dioptres. Exact for thin
 * lenses; the route that keeps the cross term of an oblique cylinder.
 * Source: Long, Am J Optom Physiol Opt 1976;53:27-33 (from memory); agrees with the explicit prism form in M. Jalie,
 * The Indian Optician, Nov-Dec 2024.
 */
export const powerMatrix = ({ sphereD, cylinderD, axisDeg }: SpheroCyl): PowerMatrix => {
  const sin = Math.sin(radians(axisDeg));
  const cos = Math.cos(radians(axisDeg));
  return {
    xxD: sphereD + cylinderD * sin * sin,
    xyD: -cylinderD * sin * cos,
    yyD: sphereD + cylinderD * cos * cos,
  };
};

/** The lens of a power matrix, minus cylinder form, axis in (0, 180]. Source: as `powerMatrix`. */
export const lensOfMatrix = ({ xxD, xyD, yyD }: PowerMatrix): SpheroCyl =>
  lensOfVector({ meanD: (xxD + yyD) / 2, j0D: (xxD - yyD) / 2, j45D: xyD });

import { asAxis, degrees, radians } from './angle.ts';
import type { SpheroCyl } from './spheroCyl.ts';

/** Mean power M and the two crossed-cylinder parts J0 (axes 180 and 90) and J45 (axes 45 and 135), dioptres. */
export type PowerVector = { readonly meanD: number; readonly j0D: number; readonly j45D: number };

/**
 * Power vector of a lens: M = S + C/2, J0 = -(C/2) cos 2A, J45 = -(C/2) sin 2A. Dioptres; minus cylinder at 180
 * (with the rule) gives positive J0. Exact for thin lenses in one plane; vectors add as lenses do.
 * Source: Thibos, Wheeler, Horner, Optom Vis Sci 1997;74:367-375 (abstract read, formulas from memory).
 */
export const powerVector = ({ sphereD, cylinderD, axisDeg }: SpheroCyl): PowerVector => ({
  meanD: sphereD + cylinderD / 2,
  j0D: -(cylinderD / 2) * Math.cos(2 * radians(axisDeg)),
  j45D: -(cylinderD / 2) * Math.sin(2 * radians(axisDeg)),
});

/**
 * The lens of a power vector, minus cylinder form: C = -2 √(J0² + J45²), S = M - C/2, A = atan2(J45, J0) / 2 in
 * (0, 180]. Cylinder under 1e-9 D counts as none (axis 180). Source: as `powerVector`.
 */
export const lensOfVector = ({ meanD, j0D, j45D }: PowerVector): SpheroCyl => {
  const cylinderD = -2 * Math.hypot(j0D, j45D);
  if (cylinderD > -1e-9) return { sphereD: meanD, cylinderD: 0, axisDeg: 180 };
  // atan2 and not atan: the angle is a doubled axis and needs all four quarters.
  return { sphereD: meanD - cylinderD / 2, cylinderD, axisDeg: asAxis(degrees(Math.atan2(j45D, j0D)) / 2) };
};

/**
 * Blur strength B = √(M² + J0² + J45²), dioptres, never negative: the single best size of a lens or of a change
 * between lenses. Source: as `powerVector`.
 */
export const blurStrengthD = ({ meanD, j0D, j45D }: PowerVector): number => Math.hypot(meanD, j0D, j45D);

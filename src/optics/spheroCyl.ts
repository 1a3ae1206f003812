import { asAxis } from './angle.ts';

/** Sphere and cylinder in dioptres; axis 0 < A <= 180, counter-clockwise as seen facing the wearer. */
export type SpheroCyl = { readonly sphereD: number; readonly cylinderD: number; readonly axisDeg: number };
export type Eye = 'R' | 'L';

/**
 * The same lens written in the other cylinder form: S' = S + C, C' = -C, A' = A ± 90. Dioptres and degrees; holds
 * for every thin sphero-cylinder, without error. Source: NFOS opticianry course, module 8c, flat transposition.
 */
export const transpose = ({ sphereD, cylinderD, axisDeg }: SpheroCyl): SpheroCyl => ({
  sphereD: sphereD + cylinderD,
  cylinderD: cylinderD === 0 ? 0 : -cylinderD,
  axisDeg: asAxis(axisDeg + 90),
});

/** Minus cylinder form, axis in (0, 180]; a lens without cylinder gets axis 180. Source: as `transpose`. */
export const minusCylinder = (lens: SpheroCyl): SpheroCyl =>
  lens.cylinderD > 0 ? transpose(lens) : withAxisInRange(lens);

/** Plus cylinder form, axis in (0, 180]; a lens without cylinder gets axis 180. Source: as `transpose`. */
export const plusCylinder = (lens: SpheroCyl): SpheroCyl =>
  lens.cylinderD < 0 ? transpose(lens) : withAxisInRange(lens);

/**
 * The two principal meridians: power S along the axis, S + C across it. Dioptres; meridians in degrees.
 * Source: NFOS opticianry course, module 8c.
 */
export const principalPowers = ({ sphereD, cylinderD, axisDeg }: SpheroCyl) => ({
  alongAxis: { powerD: sphereD, meridianDeg: asAxis(axisDeg) },
  acrossAxis: { powerD: sphereD + cylinderD, meridianDeg: asAxis(axisDeg + 90) },
});

/** Mean power (spherical equivalent) S + C/2, dioptres. Source: Thibos and others, Optom Vis Sci 1997;74:367-375. */
export const meanPowerD = ({ sphereD, cylinderD }: SpheroCyl): number => sphereD + cylinderD / 2;

/** The principal power of greater size, without sign, dioptres: what bands of the standards are chosen by. */
export const strongerMeridianD = ({ sphereD, cylinderD }: SpheroCyl): number =>
  Math.max(Math.abs(sphereD), Math.abs(sphereD + cylinderD));

const withAxisInRange = (lens: SpheroCyl): SpheroCyl => ({
  sphereD: lens.sphereD,
  cylinderD: lens.cylinderD === 0 ? 0 : lens.cylinderD,
  axisDeg: lens.cylinderD === 0 ? 180 : asAxis(lens.axisDeg),
});

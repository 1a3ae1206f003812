import { degrees, radians } from './angle.ts';
import type { Prism } from './prismAtPoint.ts';
import type { Eye } from './spheroCyl.ts';

/** Size in prism dioptres; base from 0 to 360 degrees, counter-clockwise as seen facing the wearer. */
export type Resultant = { readonly prismPd: number; readonly baseDeg: number };

/**
 * Several prisms before one eye as one: components added, size by root sum of squares, base by atan2. 0 degrees is to
 * the observer's right: base in for the right eye, base out for the left. No prism: base 0.
 * Source: NFOS opticianry course, resultant prism, parts a and b.
 */
export const resultantPrism = (eye: Eye, parts: readonly Prism[]): Resultant => {
  const { upPd, inPd } = sumPrism(parts);
  const x = eye === 'R' ? inPd : -inPd;
  const prismPd = Math.hypot(x, upPd);
  if (prismPd === 0) return { prismPd: 0, baseDeg: 0 };
  const baseDeg = degrees(Math.atan2(upPd, x));
  return { prismPd, baseDeg: baseDeg < 0 ? baseDeg + 360 : baseDeg };
};

/** The components of a prism given by size and base angle, 0 to 360 degrees. Source: as `resultantPrism`. */
export const prismComponents = (eye: Eye, { prismPd, baseDeg }: Resultant): Prism => ({
  upPd: prismPd * Math.sin(radians(baseDeg)),
  inPd: (eye === 'R' ? 1 : -1) * prismPd * Math.cos(radians(baseDeg)),
});

/** Prisms before one eye added by component, prism dioptres. */
export const sumPrism = (parts: readonly Prism[]): Prism => {
  let upPd = 0;
  let inPd = 0;
  for (const part of parts) {
    upPd += part.upPd;
    inPd += part.inPd;
  }
  return { upPd, inPd };
};

/**
 * What both eyes meet together: vertical imbalance is right minus left (equal prism on both sides cancels),
 * horizontal is the sum of base in. Prism dioptres, signed. Source: NFOS course, prism notation; Prentice's rule.
 */
export const imbalance = (right: Prism, left: Prism) => ({
  verticalPd: right.upPd - left.upPd,
  horizontalInPd: right.inPd + left.inPd,
});

/**
 * The same imbalance shared evenly between the eyes: vertical with opposite bases, horizontal with like bases.
 * Prism dioptres. Source: NFOS opticianry course, prism notation, part a (printed split reproduced).
 */
export const splitPrism = (right: Prism, left: Prism): { readonly R: Prism; readonly L: Prism } => {
  const { verticalPd, horizontalInPd } = imbalance(right, left);
  return {
    R: { upPd: verticalPd / 2, inPd: horizontalInPd / 2 },
    L: { upPd: -verticalPd / 2, inPd: horizontalInPd / 2 },
  };
};

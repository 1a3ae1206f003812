import { powerMatrix } from './powerMatrix.ts';
import type { Eye, SpheroCyl } from './spheroCyl.ts';

/** Prism dioptres; `upPd` + is base up, `inPd` + is base in, whichever eye. */
export type Prism = { readonly upPd: number; readonly inPd: number };
/** Where the line of sight meets the lens, from the optical centre, mm: + above, + nasal. */
export type GazePoint = { readonly aboveMm: number; readonly nasalMm: number };

/**
 * Prism met at a point of a sphero-cylinder: base vector = -F r, with F the power matrix and r the step from optical
 * centre to gaze point in centimetres. Oblique cylinders give a cross part: looking sideways meets some vertical
 * prism. Prentice's rule; holds within some 15 mm of the centre of a thin lens, and overstates strong plus (the true
 * effect at distance differs by a few per cent with vertex and form).
 * Source: Long, Am J Optom Physiol Opt 1976;53:27-33 (from memory); M. Jalie, The Indian Optician, Nov-Dec 2024,
 * prismatic effect of an astigmatic lens (printed numbers reproduced).
 */
export const prismAtPoint = (lens: SpheroCyl, eye: Eye, { aboveMm, nasalMm }: GazePoint): Prism => {
  const { xxD, xyD, yyD } = powerMatrix(lens);
  // Nasal is to the observer's right for the right eye and to the left for the left eye.
  const noseX = eye === 'R' ? 1 : -1;
  const xCm = (noseX * nasalMm) / 10;
  const yCm = aboveMm / 10;
  return {
    upPd: plain(-(xyD * xCm + yyD * yCm)),
    inPd: plain(-noseX * (xxD * xCm + xyD * yCm)),
  };
};

/**
 * The band of equal vertical prism along which a lens changes height without more than `limitPd`: half width at right
 * angles to the band, mm, and its slope, degrees from -90 to 90, anticlockwise positive. The gradient of vertical
 * prism is the second row of the power matrix. No band (endless width) when the row is zero.
 * Source: Long 1976 (from memory); M. Jalie, The Indian Optician, Sept-Oct 2022, iso-prism zones part two.
 */
export const verticalPrismBand = (lens: SpheroCyl, limitPd: number) => {
  const { xyD, yyD } = powerMatrix(lens);
  const slope = yyD === 0 ? (xyD === 0 ? 0 : Math.PI / 2) : Math.atan(-xyD / yyD);
  return { halfWidthMm: (10 * limitPd) / Math.hypot(xyD, yyD), inclinationDeg: (slope * 180) / Math.PI };
};

const plain = (pd: number): number => (pd === 0 ? 0 : pd);

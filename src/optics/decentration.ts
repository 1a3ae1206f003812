import { powerAlongMeridianD } from './meridianPower.ts';
import { type Prism, prismAtPoint } from './prismAtPoint.ts';
import type { Eye, SpheroCyl } from './spheroCyl.ts';

/**
 * Prism in front of the pupil when the optical centre is moved, mm, + up and + in: the gaze point moves the opposite
 * way. Prism dioptres. Source: Prentice's rule, as `prismAtPoint`.
 */
export const prismFromDecentration = (
  lens: SpheroCyl,
  eye: Eye,
  centreMovedUpMm: number,
  centreMovedInMm: number,
): Prism => prismAtPoint(lens, eye, { aboveMm: -centreMovedUpMm, nasalMm: -centreMovedInMm });

/**
 * How far to move the centre along one meridian (90 for up, 180 for in) to meet a wanted prism of that meridian:
 * 10 P / F, mm, signed as the prism (+ up or + in). `null` where the lens has no power there: it must be ground in.
 * An oblique cylinder then also gives some prism across; see `prismFromDecentration` for how much.
 * Source: Prentice's rule; MRCOphth mock OSCE 13, station 7 (printed value reproduced).
 */
export const decentrationForPrismMm = (
  lens: SpheroCyl,
  meridianDeg: 90 | 180,
  prismPd: number,
): number | null => {
  const powerD = powerAlongMeridianD(lens, meridianDeg);
  return Math.abs(powerD) < 1e-9 ? null : (10 * prismPd) / powerD;
};

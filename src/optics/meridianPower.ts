import { radians } from './angle.ts';
import type { SpheroCyl } from './spheroCyl.ts';

/**
 * Power along a meridian m: F = S + C sin²(m - A), dioptres, degrees. It is the curvature of the emerging wave in
 * that section; a sideways look through an oblique cylinder also meets a cross part, for which the power matrix is
 * needed. Source: optician study notes with worked answers, "Powers in oblique meridians"; opticaled articles
 * (B. McCardle, 2009), "Oblique Meridian".
 */
export const powerAlongMeridianD = (lens: SpheroCyl, meridianDeg: number): number =>
  lens.sphereD + lens.cylinderD * cylinderShare(meridianDeg - lens.axisDeg);

/**
 * Share (0 to 1) of a cylinder's power met at an angle from its axis: sin². Degrees in.
 * Source: optician review notes, oblique-cylinder percentage chart.
 */
export const cylinderShare = (fromAxisDeg: number): number => Math.sin(radians(fromAxisDeg)) ** 2;

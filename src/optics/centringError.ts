import { type Prism, prismAtPoint } from './prismAtPoint.ts';
import { imbalance } from './prismSum.ts';
import type { SpheroCyl } from './spheroCyl.ts';

type EyeCentring = {
  readonly lens: SpheroCyl;
  /** Monocular PD of the finished lens and of the wearer, mm. */
  readonly madePdMm: number;
  readonly wearerPdMm: number;
  /** Optical centre above (+) or below (-) the pupil, mm; left out is level. */
  readonly centreAbovePupilMm?: number;
};

/**
 * Unasked-for prism from PD and height errors. A centre made wider than the wearer (made - wearer > 0) leaves the
 * pupil that far nasal of it; a centre above the pupil leaves the gaze point below it. Prism dioptres; base in adds
 * over both eyes, vertical is right minus left. Straight-ahead gaze, thin lens.
 * Source: Prentice's rule in matrix form, as `prismAtPoint`.
 */
export const prismFromCentringError = (right: EyeCentring, left: EyeCentring) => {
  const R = eyePrism('R', right);
  const L = eyePrism('L', left);
  return { R, L, ...imbalance(R, L) };
};

const eyePrism = (
  eye: 'R' | 'L',
  { lens, madePdMm, wearerPdMm, centreAbovePupilMm = 0 }: EyeCentring,
): Prism => prismAtPoint(lens, eye, { aboveMm: -centreAbovePupilMm, nasalMm: madePdMm - wearerPdMm });

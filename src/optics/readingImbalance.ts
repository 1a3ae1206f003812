import { powerAlongMeridianD } from './meridianPower.ts';
import { type Prism, prismAtPoint } from './prismAtPoint.ts';
import { imbalance } from './prismSum.ts';
import type { Eye, SpheroCyl } from './spheroCyl.ts';

/**
 * Vertical difference of prism at the reading point, right minus left, prism dioptres. Depth and nasal shift are from
 * the distance centre (in a progressive lens the prism reference point, below the fitting cross, and not the cross).
 * Equal adds and equal thinning prism on both sides cancel and are left out. Thin lens.
 * Source: Prentice's rule in matrix form, as `prismAtPoint`; sign right minus left.
 */
export const readingLevelImbalance = (
  right: SpheroCyl,
  left: SpheroCyl,
  readingBelowCentreMm: number,
  nasalMm = 0,
): { readonly R: Prism; readonly L: Prism; readonly verticalPd: number; readonly horizontalInPd: number } => {
  const point = { aboveMm: -readingBelowCentreMm, nasalMm };
  const R = prismAtPoint(right, 'R', point);
  const L = prismAtPoint(left, 'L', point);
  return { R, L, ...imbalance(R, L) };
};

/**
 * The same by the short rule, size only: |F90 right - F90 left| × depth in cm. Prism dioptres; leaves out the cross
 * term of oblique cylinders. Source: optician training course (web), lens materials, page 16, slab-off.
 */
export const imbalanceFromPowersPd = (rightPower90D: number, leftPower90D: number, belowMm: number): number =>
  Math.abs(rightPower90D - leftPower90D) * (belowMm / 10);

/** Slab-off is considered from 1.5 pd, made up to about 6. Source: continuing-education article, laboratory note. */
export const SLAB_OFF_FROM_PD = 1.5;
const SLAB_OFF_TO_PD = 6;

export type SlabOff = {
  readonly imbalancePd: number;
  readonly guide: 'not needed' | 'consider' | 'beyond slab-off';
  /** Lens that carries the slab, base up: the more minus or less plus along 90. `null` when the powers are equal. */
  readonly slabOffEye: Eye | null;
  /** Lens that carries a reverse slab, base down: the other one. */
  readonly reverseSlabEye: Eye | null;
};

/**
 * Slab-off guidance for an unequal pair: on the most minus or least plus lens along 90, base up; reverse slab on the
 * other, base down. Considered from 1.5 pd, made to about 6. Guidance, not a rule: the prescriber and the wearer's
 * own history come first. Source: optician training course (web), lens materials, page 16.
 */
export const slabOffGuidance = (right: SpheroCyl, left: SpheroCyl, readingBelowMm: number): SlabOff => {
  const rightD = powerAlongMeridianD(right, 90);
  const leftD = powerAlongMeridianD(left, 90);
  const imbalancePd = imbalanceFromPowersPd(rightD, leftD, readingBelowMm);
  const slabOffEye = imbalancePd < 1e-9 ? null : rightD < leftD ? 'R' : 'L';
  return {
    imbalancePd,
    guide: guideFor(imbalancePd),
    slabOffEye,
    reverseSlabEye: slabOffEye === null ? null : slabOffEye === 'R' ? 'L' : 'R',
  };
};

const guideFor = (imbalancePd: number): SlabOff['guide'] => {
  if (imbalancePd < SLAB_OFF_FROM_PD - 1e-9) return 'not needed';
  return imbalancePd > SLAB_OFF_TO_PD + 1e-9 ? 'beyond slab-off' : 'consider';
};

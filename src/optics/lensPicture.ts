import type { FrameBox } from './boxGeometry.ts';
import { framePdMm } from './boxGeometry.ts';
import { corridorWidthMm } from './corridor.ts';
import { USUAL_DESIGN_INSET_MM } from './inset.ts';
import type { Eye } from './spheroCyl.ts';

export type Point = { readonly xMm: number; readonly yMm: number };

/** One lens of the picture as far as it is known; what is left out is not drawn. */
export type EyeLayout = {
  /** Fitting cross: monocular PD and height from the lowest point of the lens, mm. */
  readonly monocularPdMm?: number;
  readonly fittingHeightMm?: number;
  /** Pupil as worn, the same way. */
  readonly pupilMonocularPdMm?: number;
  readonly pupilHeightMm?: number;
  readonly insetMm?: number;
};

export type PictureInput = {
  readonly frame: FrameBox;
  readonly R: EyeLayout;
  readonly L: EyeLayout;
  readonly corridorMm?: number;
  readonly addD?: number;
  /** Prism reference point below the cross, mm. */
  readonly referenceBelowCrossMm?: number;
};

export type EyePicture = {
  readonly box: {
    readonly leftMm: number;
    readonly rightMm: number;
    readonly bottomMm: number;
    readonly topMm: number;
  };
  readonly boxedCentre: Point;
  /** The rim, closed, drawn from the box sizes (not traced). */
  readonly rim: readonly Point[];
  readonly cross: Point | null;
  readonly prismReferencePoint: Point | null;
  /** Middle line from the cross down to the near zone, with the clear width by the surface-astigmatism rule. */
  readonly corridor: { readonly from: Point; readonly to: Point; readonly widthMm: number | null } | null;
  /** Near zone inside the rim: middle of its top, and how much height is left under it (0 when cut off). */
  readonly nearZone: { readonly top: Point; readonly heightMm: number } | null;
  readonly pupil: Point | null;
  /** Cross against pupil, mm: + above and + nasal. */
  readonly crossOffPupil: { readonly aboveMm: number | null; readonly nasalMm: number | null };
};

export type LensPicture = {
  readonly R: EyePicture;
  readonly L: EyePicture;
  readonly widthMm: number;
  readonly heightMm: number;
};

/** Prism reference point below the cross when the design does not say, mm: 2 to 4. Source: class quiz. */
const REFERENCE_BELOW_CROSS_MM = 4;

/**
 * Both lenses to scale, mm, as seen facing the wearer: x to the observer's right from the middle of the bridge, y up
 * from the lowest line of the boxes; so the wearer's right lens lies on the left (x under 0). Heights are drawn from the
 * bottom of the box. The rim is a rounded box of the true sizes, not the true shape; the corridor's width is an estimate
 * (`corridorWidthMm` with 0.50 D). Source: box system; sources of the parts where they are reckoned.
 */
export const lensPicture = (input: PictureInput): LensPicture => ({
  R: eyePicture(input, 'R'),
  L: eyePicture(input, 'L'),
  widthMm: 2 * input.frame.aMm + input.frame.dblMm,
  heightMm: input.frame.bMm,
});

const eyePicture = (input: PictureInput, eye: Eye): EyePicture => {
  const { frame } = input;
  const layout = input[eye];
  const outward = eye === 'R' ? -1 : 1;
  const centreX = (outward * framePdMm(frame)) / 2;
  const cross = pointOf(outward, layout.monocularPdMm, layout.fittingHeightMm);
  const pupil = pointOf(outward, layout.pupilMonocularPdMm, layout.pupilHeightMm);
  return {
    box: {
      leftMm: centreX - frame.aMm / 2,
      rightMm: centreX + frame.aMm / 2,
      bottomMm: 0,
      topMm: frame.bMm,
    },
    boxedCentre: { xMm: centreX, yMm: frame.bMm / 2 },
    rim: rimAround(centreX, frame),
    cross,
    prismReferencePoint: cross && {
      xMm: cross.xMm,
      yMm: cross.yMm - (input.referenceBelowCrossMm ?? REFERENCE_BELOW_CROSS_MM),
    },
    ...zones(input, layout, outward, cross),
    pupil,
    crossOffPupil: {
      aboveMm: difference(layout.fittingHeightMm, layout.pupilHeightMm),
      nasalMm: difference(layout.pupilMonocularPdMm, layout.monocularPdMm),
    },
  };
};

const zones = (
  { corridorMm, addD }: PictureInput,
  layout: EyeLayout,
  outward: 1 | -1,
  cross: Point | null,
): Pick<EyePicture, 'corridor' | 'nearZone'> => {
  if (cross === null || corridorMm === undefined) return { corridor: null, nearZone: null };
  const to: Point = {
    xMm: cross.xMm - outward * (layout.insetMm ?? USUAL_DESIGN_INSET_MM),
    yMm: cross.yMm - corridorMm,
  };
  const widthMm = addD === undefined || addD <= 0 ? null : corridorWidthMm(addD, corridorMm);
  return {
    corridor: { from: cross, to, widthMm },
    nearZone: { top: to, heightMm: Math.max(0, to.yMm) },
  };
};

const pointOf = (outward: number, pdMm: number | undefined, heightMm: number | undefined): Point | null =>
  pdMm === undefined || heightMm === undefined ? null : { xMm: outward * pdMm, yMm: heightMm };

const difference = (one: number | undefined, other: number | undefined): number | null =>
  one === undefined || other === undefined ? null : one - other;

/** A rounded box (superellipse): touches the box in the middle of each side. */
const rimAround = (centreX: number, { aMm, bMm }: FrameBox): readonly Point[] => {
  const roundness = 2 / 3.2;
  return Array.from({ length: 72 }, (_, step) => {
    const angle = (step * 2 * Math.PI) / 72;
    return {
      xMm: centreX + (aMm / 2) * bent(Math.cos(angle), roundness),
      yMm: bMm / 2 + (bMm / 2) * bent(Math.sin(angle), roundness),
    };
  });
};

const bent = (part: number, power: number): number => Math.sign(part) * Math.abs(part) ** power;

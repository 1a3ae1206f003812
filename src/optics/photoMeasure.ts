import type { FrameBox } from './boxGeometry.ts';
import type { Eye } from './spheroCyl.ts';

/** A place in the picture, in its own dots: x to the right, y downwards, the frame level. */
export type Spot = { readonly x: number; readonly y: number };

/** The edges of a lens as the box touches them, and the middle of its pupil, in dots of the picture. */
export type MarkedLens = {
  readonly outerX: number;
  readonly innerX: number;
  readonly topY: number;
  readonly bottomY: number;
  readonly pupil: Spot;
};

export type MarkedPhoto = {
  /** The wearer's right lens stands on the left of the picture. */
  readonly R: MarkedLens;
  readonly L: MarkedLens;
  /** Where each side of the frame reaches its ear; left out where hair hides one. They tell how far the head was turned. */
  readonly ears?: { readonly R: Spot; readonly L: Spot };
  readonly frame: FrameBox;
  /** From the camera to the frame, mm, as somebody said. */
  readonly cameraMm: number;
  /** The wearer stood as they do, the camera at the height of their eyes: somebody saw to it. */
  readonly stoodAsUsual: boolean;
};

export type PhotoNumber = {
  readonly mm: number;
  /** The true number lies within so much in 19 of 20 pictures, mm. */
  readonly plusMinusMm: number;
  /** False where the plus-minus is over 1.5 mm: then nothing can be said. */
  readonly canSay: boolean;
  /** What makes up the plus-minus, mm each (2 standard deviations), greatest first. They add as squares. */
  readonly from: readonly { readonly what: ErrorPart; readonly mm: number }[];
};

export type ErrorPart =
  | 'distance'
  | 'depth of the eye'
  | 'head turn'
  | 'head tilt'
  | 'marks'
  | 'frame sizes'
  | 'lens of the camera';

export type PhotoMeasures = {
  readonly monoPdMm: Readonly<Record<Eye, PhotoNumber>>;
  readonly pdMm: PhotoNumber;
  readonly heightMm: Readonly<Record<Eye, PhotoNumber>>;
  /** Right height less left height: a nod moves both alike, so this is told when the heights cannot be. */
  readonly heightDifferenceMm: PhotoNumber;
  /** How far the head seems turned, degrees, + to the wearer's left; undefined without both ears. */
  readonly turnDeg: number | undefined;
  readonly doubts: readonly PhotoDoubt[];
};

export type PhotoDoubt = 'too near' | 'coarse' | 'edges disagree' | 'turned';

/** Over this nothing is said, mm. Common practice, no source: half of a step at which wearers notice. */
export const CANNOT_SAY_OVER_MM = 1.5;

/**
 * Monocular PDs (from the middle of the bridge, far gaze) and fitting heights (from the lowest point of the lens) from marks on
 * a straight-on photograph, mm, each with a plus-minus of two standard deviations.
 * Scale: across, 2A + DBL between the outer edges; upwards, B of each lens, so that a leaning frame cancels out. The wearer looks
 * into the camera, so that each line of sight passes through the centre of rotation of its eye, s = 27 mm behind the frame; the
 * mark of a pupil at x on the frame's plane is the centre at X, with c where the camera stands before that plane:
 * X = x (1 + s/D) - c s/D. Ears lie e = 95 mm behind it; their middle m gives c = m (1 + D/e), otherwise c = 0.
 * Source: similar triangles; s as in the near PD of a plano lens (sci.med.vision thread with worked numbers, R. Martellaro);
 * the spreads below are common practice, no source.
 */
export function measurePhoto(photo: MarkedPhoto): PhotoMeasures {
  const dotsPerMm = across(photo) / wholeWidthMm(photo.frame);
  const told = (number: (numbers: Numbers) => number) => withSpread(photo, dotsPerMm, number);
  const numbers = reckon(photo, NO_ERROR);
  return {
    monoPdMm: { R: told((of) => of.monoR), L: told((of) => of.monoL) },
    pdMm: told((of) => of.monoR + of.monoL),
    heightMm: { R: told((of) => of.heightR), L: told((of) => of.heightL) },
    heightDifferenceMm: told((of) => of.heightR - of.heightL),
    turnDeg: photo.ears ? (-Math.atan(numbers.cameraAsideMm / photo.cameraMm) * 180) / Math.PI : undefined,
    doubts: doubtsOf(photo, dotsPerMm, numbers),
  };
}

const LENS_TO_CENTRE_MM = 27;
const LENS_TO_EAR_MM = 95;
const NEAR_MM = 800;

/** One standard deviation each. Common practice, no source; the tilt of a head held as usual: from memory of papers on its repeating. */
const SPREAD = {
  distance: 0.2,
  centreMm: 2,
  earDepthMm: 10,
  /** How far the middle of the ears lies beside the middle of the bridge. */
  earsAsideMm: 2,
  turnUnknownDeg: 3.5,
  tiltUnknownDeg: 3.5,
  tiltAsUsualDeg: 1.3,
  markMm: 0.2,
  markDots: 1.5,
  earMarkMm: 1,
  frameSizeMm: 0.3,
  /** Bending of straight lines and the curve of the front, of the scale. */
  scale: 0.007,
} as const;

type Errors = {
  distance: number;
  centreMm: number;
  earDepthMm: number;
  earsAsideMm: number;
  turnDeg: number;
  tiltDeg: number;
  scale: number;
};
const NO_ERROR: Errors = {
  distance: 0,
  centreMm: 0,
  earDepthMm: 0,
  earsAsideMm: 0,
  turnDeg: 0,
  tiltDeg: 0,
  scale: 0,
};

type Numbers = {
  readonly monoR: number;
  readonly monoL: number;
  readonly heightR: number;
  readonly heightL: number;
  /** Where the camera stands before the plane of the frame: to the right in the picture from the middle of the bridge, +. */
  readonly cameraAsideMm: number;
};

const across = ({ R, L }: Pick<MarkedPhoto, 'R' | 'L'>): number => L.outerX - R.outerX;
const wholeWidthMm = ({ aMm, dblMm }: FrameBox): number => 2 * aMm + dblMm;
const tan = (deg: number): number => Math.tan((deg * Math.PI) / 180);

function reckon(photo: MarkedPhoto, error: Errors): Numbers {
  const { R, L, ears, frame } = photo;
  const perDot = (wholeWidthMm(frame) / across(photo)) * (1 + error.scale);
  const bridgeX = (R.innerX + L.innerX) / 2;
  const d = photo.cameraMm * (1 + error.distance);
  const s = LENS_TO_CENTRE_MM + error.centreMm;
  const e = LENS_TO_EAR_MM + error.earDepthMm;
  const aside = ears
    ? (((ears.R.x + ears.L.x) / 2 - bridgeX) * perDot - (error.earsAsideMm * d) / (d + e)) * (1 + d / e)
    : -d * tan(error.turnDeg);
  const centreX = ({ pupil }: MarkedLens) => (pupil.x - bridgeX) * perDot * (1 + s / d) - (aside * s) / d;
  const height = ({ bottomY, topY, pupil }: MarkedLens) =>
    ((bottomY - pupil.y) / (bottomY - topY)) * frame.bMm * (1 + error.scale / 2) + s * tan(error.tiltDeg);
  return {
    monoR: -centreX(R),
    monoL: centreX(L),
    heightR: height(R),
    heightL: height(L),
    cameraAsideMm: aside,
  };
}

/** Each error is tried alone at one standard deviation; what it moves the number by adds as squares. */
function withSpread(photo: MarkedPhoto, dotsPerMm: number, number: (of: Numbers) => number): PhotoNumber {
  const mm = number(reckon(photo, NO_ERROR));
  const squares = new Map<ErrorPart, number>();
  for (const { what, photo: moved, error } of tries(photo, dotsPerMm)) {
    const by = number(reckon(moved, error)) - mm;
    squares.set(what, (squares.get(what) ?? 0) + by * by);
  }
  const plusMinusMm = 2 * Math.sqrt([...squares.values()].reduce((sum, one) => sum + one, 0));
  return {
    mm,
    plusMinusMm,
    canSay: plusMinusMm <= CANNOT_SAY_OVER_MM,
    from: [...squares]
      .map(([what, square]) => ({ what, mm: 2 * Math.sqrt(square) }))
      .filter((part) => part.mm >= 0.05)
      .sort((one, other) => other.mm - one.mm),
  };
}

type Try = { readonly what: ErrorPart; readonly photo: MarkedPhoto; readonly error: Errors };

function tries(photo: MarkedPhoto, dotsPerMm: number): Try[] {
  const withError = (what: ErrorPart, error: Partial<Errors>): Try => ({
    what,
    photo,
    error: { ...NO_ERROR, ...error },
  });
  const moved = (what: ErrorPart, change: Partial<MarkedPhoto>): Try => ({
    what,
    photo: { ...photo, ...change },
    error: NO_ERROR,
  });
  const turn: Try[] = photo.ears
    ? [
        withError('head turn', { earsAsideMm: SPREAD.earsAsideMm }),
        withError('head turn', { earDepthMm: SPREAD.earDepthMm }),
        moved('head turn', { ears: besideMm(photo.ears, SPREAD.earMarkMm * dotsPerMm) }),
      ]
    : [withError('head turn', { turnDeg: SPREAD.turnUnknownDeg })];
  const { aMm, bMm, dblMm } = photo.frame;
  const size = SPREAD.frameSizeMm;
  return [
    withError('distance', { distance: SPREAD.distance }),
    withError('depth of the eye', { centreMm: SPREAD.centreMm }),
    ...turn,
    withError('head tilt', { tiltDeg: photo.stoodAsUsual ? SPREAD.tiltAsUsualDeg : SPREAD.tiltUnknownDeg }),
    withError('lens of the camera', { scale: SPREAD.scale }),
    moved('frame sizes', { frame: { aMm: aMm + size, bMm, dblMm } }),
    moved('frame sizes', { frame: { aMm, bMm: bMm + size, dblMm } }),
    moved('frame sizes', { frame: { aMm, bMm, dblMm: dblMm + size } }),
    ...markTries(photo, Math.max(SPREAD.markDots, SPREAD.markMm * dotsPerMm)).map((change) =>
      moved('marks', change),
    ),
  ];
}

const besideMm = (ears: { R: Spot; L: Spot }, byDots: number) => ({
  R: ears.R,
  L: { ...ears.L, x: ears.L.x + byDots },
});

function markTries(photo: MarkedPhoto, dots: number): Partial<MarkedPhoto>[] {
  return (['R', 'L'] as const).flatMap((eye) => {
    const lens = photo[eye];
    const edges = (['outerX', 'innerX', 'topY', 'bottomY'] as const).map((edge) => ({
      ...lens,
      [edge]: lens[edge] + dots,
    }));
    const pupils = (['x', 'y'] as const).map((way) => ({
      ...lens,
      pupil: { ...lens.pupil, [way]: lens.pupil[way] + dots },
    }));
    return [...edges, ...pupils].map((marked) => ({ [eye]: marked }));
  });
}

/** Two lenses that differ by so much, or a height that does not fit the width, were not marked at their edges. Common practice. */
const WIDTHS_DIFFER = 0.05;
const SHAPE_DIFFERS = 0.08;
const COARSE_DOTS_PER_MM = 6;
const TURNED_DEG = 7;

function doubtsOf(photo: MarkedPhoto, dotsPerMm: number, numbers: Numbers): PhotoDoubt[] {
  const { R, L, frame, cameraMm } = photo;
  const widths = [R.innerX - R.outerX, L.outerX - L.innerX] as const;
  const heights = [R.bottomY - R.topY, L.bottomY - L.topY] as const;
  const shape = (heights[0] + heights[1]) / (widths[0] + widths[1]) / (frame.bMm / frame.aMm);
  const turned = photo.ears !== undefined && Math.abs(numbers.cameraAsideMm) > cameraMm * tan(TURNED_DEG);
  return [
    ...(cameraMm < NEAR_MM ? (['too near'] as const) : []),
    ...(dotsPerMm < COARSE_DOTS_PER_MM ? (['coarse'] as const) : []),
    ...(Math.abs(widths[0] / widths[1] - 1) > WIDTHS_DIFFER || Math.abs(shape - 1) > SHAPE_DIFFERS
      ? (['edges disagree'] as const)
      : []),
    ...(turned ? (['turned'] as const) : []),
  ];
}

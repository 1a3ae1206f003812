export type PicturePoint = { readonly xMm: number; readonly yMm: number };

/**
 * One lens as someone facing the wearer sees it, in millimetres: x to the viewer's right from the middle of the bridge,
 * y up from the lowest line of the boxes. What is not known is null and not drawn.
 */
export type LensDrawing = {
  /** What is off, short, written large under the lens: "2.1 mm low"; empty when nothing is. */
  readonly offBy: string;
  readonly box: {
    readonly leftMm: number;
    readonly rightMm: number;
    readonly bottomMm: number;
    readonly topMm: number;
  };
  /** The rim as points, closed. */
  readonly rim: readonly PicturePoint[];
  /** Fitting cross where it really sits. */
  readonly cross: PicturePoint | null;
  /** Fitting cross where the order wants it, when that is elsewhere. */
  readonly crossOrdered: PicturePoint | null;
  readonly prismReferencePoint: PicturePoint | null;
  /** Middle line of the corridor with its clear width. */
  readonly corridor: {
    readonly from: PicturePoint;
    readonly to: PicturePoint;
    readonly widthMm: number | null;
  } | null;
  /** Top of the near zone and how much height is left of it inside the rim. */
  readonly nearZone: { readonly top: PicturePoint; readonly heightMm: number } | null;
  /** Pupil where measured in the wearer's own posture. */
  readonly pupil: PicturePoint | null;
};

/** Both lenses: the wearer's right lens on the viewer's left. */
export type LensPicture = {
  readonly R: LensDrawing;
  readonly L: LensDrawing;
  /** What a reader should see at a glance: "Right cross 2.1 mm below the pupil; 2.9 mm of near zone inside the rim." */
  readonly says: string;
  /** The same numbers as a table: row name, right, left. */
  readonly table: readonly { readonly name: string; readonly right: string; readonly left: string }[];
};

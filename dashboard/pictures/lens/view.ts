/** What one lens looks like from the front, in millimetres. x grows toward the viewer's right, y grows upward; 0,0 is the middle of the box. */
export type LensDrawing = {
  /** What is off, short, written large beside the lens: "2.1 mm low"; empty when nothing is. */
  readonly offBy: string;
  /** Box width and height. */
  readonly aMm: number;
  readonly bMm: number;
  /** Rim as points round the lens; empty draws a rounded box. */
  readonly rim: readonly { readonly xMm: number; readonly yMm: number }[];
  /** Fitting cross where it really sits; null when not known. */
  readonly cross: { readonly xMm: number; readonly yMm: number } | null;
  /** Fitting cross where the order wants it; null when the same or not known. */
  readonly crossOrdered: { readonly xMm: number; readonly yMm: number } | null;
  /** Prism reference point; null when not known. */
  readonly prismPoint: { readonly xMm: number; readonly yMm: number } | null;
  /** Corridor from the cross down to the near zone, with its clear width half-way; null when the design is not known. */
  readonly corridor: {
    readonly fromYMm: number;
    readonly toYMm: number;
    readonly topXMm: number;
    readonly bottomXMm: number;
    readonly widthMm: number;
  } | null;
  /** Near zone as a circle round its middle; null when not known. */
  readonly near: { readonly xMm: number; readonly yMm: number; readonly radiusMm: number } | null;
  /** Pupil where measured in the wearer's own posture; null when not measured. */
  readonly pupil: { readonly xMm: number; readonly yMm: number } | null;
};

/** Both lenses as the viewer sees them: the wearer's right lens on the left. */
export type LensPicture = {
  readonly right: LensDrawing;
  readonly left: LensDrawing;
  /** Distance between lenses. */
  readonly dblMm: number;
  /** What a reader should see at a glance: "Right cross 2.1 mm below the pupil; 3.5 mm of near zone are inside the rim." */
  readonly says: string;
  /** The same numbers as a table: row name, right, left. */
  readonly table: readonly { readonly name: string; readonly right: string; readonly left: string }[];
};

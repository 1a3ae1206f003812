/** How soon one group settles: shares at the looks on days 7, 14 and 30. */
export type AdaptPicture = {
  readonly group: string;
  readonly steps: readonly {
    readonly day: number;
    /** Share settled, 0 to 1, with its interval. */
    readonly settled: number;
    readonly settledLow: number;
    readonly settledHigh: number;
    /** Share back (remade, exchanged, refunded). */
    readonly back: number;
    readonly atRisk: number;
  }[];
  /** "half settled by day 14" or "half not reached". */
  readonly medianWords: string;
  readonly sentence: string;
  readonly href: string;
};

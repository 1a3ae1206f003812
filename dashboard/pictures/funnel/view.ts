/** The more-than-luck picture: each group's rate over its number of pairs, and the bands that luck alone would fill. */
export type FunnelPicture = {
  /** The shop's own rate, 0 to 1. */
  readonly centre: number;
  readonly points: readonly {
    readonly group: string;
    readonly n: number;
    readonly rate: number;
    /** In words: "too few to say", "like the rest", "watch", "worse than the rest", "better". */
    readonly verdict: string;
    /** One sentence with number and interval. */
    readonly sentence: string;
    /** The pairs behind it. */
    readonly href: string;
  }[];
  readonly lines: readonly {
    readonly n: number;
    readonly low998: number;
    readonly low95: number;
    readonly high95: number;
    readonly high998: number;
  }[];
  readonly caption: string;
  /** The picture in words. */
  readonly inWords: string;
};

/** Rates of groups one below the other on one scale: point, interval, and where the rate stands once drawn to the shop. */
export type RatesPicture = {
  /** The shop's own rate, 0 to 1. */
  readonly shop: number;
  readonly rows: readonly {
    readonly group: string;
    readonly rate: number;
    readonly low: number;
    readonly high: number;
    readonly drawn: number;
    readonly verdict: string;
    /** Number, interval, verdict in one sentence. */
    readonly sentence: string;
    /** "9 in 10"; empty while too few. */
    readonly chanceWorse: string;
    readonly href: string;
  }[];
};

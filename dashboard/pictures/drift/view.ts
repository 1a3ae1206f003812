/** Whether the rate has moved over time: evidence for a doubling, pair by pair, against an alarm line at 1. */
export type DriftPicture = {
  readonly points: readonly {
    /** Day on which the pair was ripe, written. */
    readonly on: string;
    readonly back: boolean;
    /** Share of the alarm line; 1 is an alarm. */
    readonly evidence: number;
  }[];
  readonly alarms: readonly {
    readonly on: string;
    /** Which of the points it is. */
    readonly point: number;
    readonly words: string;
    /** The pairs that made up the evidence. */
    readonly href: string;
  }[];
  /** The pairs behind the last point, and those of the baseline. */
  readonly nowHref: string;
  readonly baselineHref: string;
  /** Says the false-alarm rate and how soon a doubling is seen. */
  readonly caption: string;
  readonly sentence: string;
};

/*
 * GET /lens-designs/pairs   part, key, by, reasons, first, second: the pairs behind one number
 */
export type LensPairsView = {
  /** The sentence or group that the pairs stand behind. */
  readonly what: string;
  /** "14 pairs, of 62 that the number is out of". */
  readonly count: string;
  /** The method by its name. */
  readonly method: string;
  readonly backHref: string;
  readonly lines: readonly {
    readonly href: string;
    readonly jobNumber: string;
    readonly design: string;
    readonly handedOver: string;
    readonly outcome: string;
    readonly reason: string;
    /** "day 7 not yet, day 14 settled". */
    readonly looks: string;
  }[];
  /** How many more there are than are shown; 0 when all are. */
  readonly more: number;
};

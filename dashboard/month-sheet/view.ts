/*
 * GET /lens-designs/month    printed: at most five sentences, no names
 */
export type MonthSheetView = {
  readonly shopName: string;
  readonly invented: boolean;
  readonly on: string;
  /** "August 2026". */
  readonly month: string;
  /** At most five, each with its number, interval and guard. */
  readonly sentences: readonly {
    readonly sentence: string;
    readonly guard: string;
    readonly pairs: string;
  }[];
  /** "nothing this month is more than luck", when there is no sentence. */
  readonly otherwise: string;
  /** How many things were looked at, and the guard. */
  readonly looks: string;
};

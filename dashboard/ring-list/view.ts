/*
 * GET  /ring-list
 * POST /ring-list/:ringId/attempt   what (spoke | no answer | left message | wrong number | again at), again_at (date and time), note
 * GET  /ring-list/:ringId           the call sheet (call-sheet/view.ts)
 */
export type RingRow = {
  readonly ringId: string;
  readonly wearer: string;
  readonly wearerHref: string;
  readonly phone: string | null;
  /** "9:42 their time". */
  readonly localTime: string;
  /** False outside their civil hours: shown, not hidden. */
  readonly civil: boolean;
  /** Why: "asked to be rung", "posted 10 days ago, no word", "day 3, likes to be rung". */
  readonly why: string;
  /** "promised by today 17:00"; empty when nothing was promised. */
  readonly promisedBy: string;
  readonly overdue: boolean;
  /** What was tried so far, newest first: "Wed 15:10 no answer, Tom". */
  readonly attempts: readonly string[];
  /** Set after three without speaking: write instead. */
  readonly writeInstead: string | null;
};

export type RingListView = {
  /** First promised, then those in civil hours. */
  readonly rows: readonly RingRow[];
};

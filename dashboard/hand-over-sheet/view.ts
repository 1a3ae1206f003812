/*
 * GET /jobs/:id/hand-over-sheet    printed, for the counter
 */
export type HandOverSheetView = {
  readonly shopName: string;
  readonly invented: boolean;
  readonly on: string;
  readonly jobHref: string;
  readonly jobNumber: string;
  readonly wearer: string;
  readonly pair: string;
  /** Ordered beside blanks for what is found: "Fitting height, mm", "18.0", "19.5". */
  readonly measures: readonly { readonly name: string; readonly right: string; readonly left: string }[];
  /** What this job foretells, in words with its number. */
  readonly expect: readonly string[];
  /** What is to be shown and told, in order. */
  readonly teach: readonly string[];
  readonly consentWords: string;
  /** Cautions that must be said to this wearer. */
  readonly cautions: readonly string[];
};

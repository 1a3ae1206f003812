/*
 * GET  /weights
 * POST /weights    pair_id, act (left out | counted again)
 */
export type WeightsView = {
  /** Outcomes that count now. */
  readonly counted: number;
  /** Cases that the catalogue's own weights are worth beside them. */
  readonly priorCases: number;
  /** Most moved first; each a share of 100 troubles. */
  readonly moved: readonly {
    readonly cause: string;
    readonly catalogue: number;
    readonly here: number;
    readonly cases: number;
    /** "here 5.2 in 100, in the catalogue 3.5". */
    readonly words: string;
  }[];
  readonly outcomes: readonly {
    readonly pairId: string;
    readonly wearer: string;
    readonly job: string;
    readonly cause: string;
    readonly how: string;
    readonly when: string;
    readonly leftOut: boolean;
  }[];
  /** How often staff changed what was suggested, over all acts and by act. */
  readonly changedWords: string;
  readonly suggestions: readonly {
    readonly act: string;
    readonly suggested: number;
    readonly changed: number;
  }[];
};

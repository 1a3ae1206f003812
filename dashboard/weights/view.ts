/*
 * GET  /weights
 * POST /weights    pair_id, act (left out | counted again)
 */
export type WeightsView = {
  /** "12 outcomes count against 100 cases of the catalogue." */
  readonly counted: string;
  readonly moved: readonly {
    readonly cause: string;
    readonly from: string;
    readonly to: string;
    readonly cases: number;
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
  /** How often staff changed what was suggested. */
  readonly suggestions: readonly {
    readonly act: string;
    readonly taken: number;
    readonly changed: number;
  }[];
};

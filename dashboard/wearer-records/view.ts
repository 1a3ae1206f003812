/*
 * GET  /wearers/:id/records
 * GET  /wearers/:id/records.json
 * GET  /wearers/:id/records.txt
 * POST /wearers/:id/erase         name (typed out)
 */
import type { FieldTrouble } from '../pieces/view.ts';

export type WearerRecordsView = {
  readonly wearerId: string;
  readonly name: string;
  /** Kinds of records with how many there are: "message", 12. */
  readonly kinds: readonly { readonly words: string; readonly count: number }[];
  readonly troubles: readonly FieldTrouble[];
};

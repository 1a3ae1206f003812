/*
 * GET  /wearers/:id/records
 * POST /wearers/:id/records.json  current (password)
 * POST /wearers/:id/records.txt   current (password)
 * POST /wearers/:id/erase         name (typed out)
 */
import type { FieldTrouble } from '../pieces/view.ts';

export type WearerRecordsView = {
  readonly wearerId: string;
  readonly name: string;
  /** Kinds of records with how many there are: "message", 12. */
  readonly kinds: readonly { readonly words: string; readonly count: number }[];
  /** The present password is asked for before records are taken out. */
  readonly asksPassword: boolean;
  readonly troubles: readonly FieldTrouble[];
};

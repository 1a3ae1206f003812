/*
 * GET  /cases/:id/prescription           the form
 * POST /cases/:id/prescription           rx_R, rx_L, add_R, add_L          (shows the difference, keeps nothing)
 * POST /cases/:id/prescription/sign      the same, seen_version, checked_by_other (second remake): drafts the job
 * POST /cases/:id/prescription/keep      the same: kept, to be signed by a licensed person
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

export type PrescriptionView = {
  readonly caseId: string;
  readonly version: number;
  readonly caseHref: string;
  readonly jobNumber: string;
  readonly jobHref: string;
  readonly wearer: string;
  /** Set once a prescription was read. */
  readonly difference: {
    readonly eyes: readonly {
      readonly eye: 'R' | 'L';
      readonly before: string;
      readonly after: string;
      /** The difference lens; empty where the old is not on record. */
      readonly lens: string;
      readonly size: string;
      readonly add: string;
    }[];
    readonly remarks: readonly string[];
    /** False where nothing changes: then there is no job to draft. */
    readonly changes: boolean;
  } | null;
  /** A remake of a remake: somebody else must have checked the pair. */
  readonly second: boolean;
  /** The person at the screen, who signs. */
  readonly me?: string;
  readonly signers: readonly { readonly personId: string; readonly words: string }[];
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};

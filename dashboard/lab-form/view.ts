/*
 * GET  /jobs/:id/lab-form
 * POST /jobs/:id/lab-form    step = look | keep; order_R_sphere, order_R_cylinder, order_R_axis, order_add_D_R, order_prism_R and the
 *                            same for as_worn and for L; vertex_assumed_mm, tilt_assumed_deg, wrap_assumed_deg, refracted_vertex_mm
 *                            (script asks with step = look after each field, and puts the answer's `data-looked` in place)
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

/** One row of the form as labs print it: ordered over as worn, R over L. */
export type LabFormRow = {
  readonly name: 'Ordered' | 'As worn';
  readonly eye: 'R' | 'L';
  /** Name of the field of each column, in the order of `LabFormView.columns`. */
  readonly fields: readonly string[];
};

export type LookedEye = {
  readonly eye: 'R' | 'L';
  /** "explained" or "not explained", in a sentence. */
  readonly verdict: string;
  readonly isExplained: boolean;
  readonly lines: readonly {
    readonly what: string;
    readonly power: string;
    /** What this line changed; empty for the first. */
    readonly change: string;
    readonly why: string;
    readonly source: string;
  }[];
  /** What the wearer gets from the lab's powers, and would get from a pair made as ordered. */
  readonly gets: string;
};

export type LabFormView = {
  readonly jobId: string;
  readonly jobNumber: string;
  readonly wearer: string;
  readonly lab: string;
  readonly columns: readonly string[];
  readonly rows: readonly LabFormRow[];
  readonly position: readonly { readonly name: string; readonly label: string }[];
  readonly differences: readonly string[];
  readonly eyes: readonly LookedEye[];
  readonly notes: readonly string[];
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};

/*
 * GET  /deliveries/new
 * POST /deliveries     one field per entry of `sections`, by its `name`
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

/** One input of the job form, as the intake's list of quantities knows it. */
export type JobField = {
  /** Name that is posted; with `eyes` the names are `name_R` and `name_L`. */
  readonly name: string;
  readonly label: string;
  /** "mm", "D", "degrees"; empty when none. */
  readonly unit: string;
  /** "10 to 35"; empty when free. */
  readonly range: string;
  readonly kind: 'text' | 'number' | 'date' | 'tel' | 'email' | 'choice';
  /** For a choice. */
  readonly choices: readonly { readonly value: string; readonly words: string }[];
  readonly needed: boolean;
  /** One input for each eye, R over L. */
  readonly eyes: boolean;
  /** Shown under the label; empty when none. */
  readonly hint: string;
};

export type DeliveryFormView = {
  /** The first section is what a job cannot do without; the others are folded. */
  readonly sections: readonly { readonly heading: string; readonly fields: readonly JobField[] }[];
  /** What our own measuring has been off by, where the owner had it said at the order. */
  readonly warnings: readonly string[];
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};

/*
 * GET  /lens-book
 * POST /lens-book/designs            name, kind, corridor_mm, corridor_how, min_height_mm, refractive_index, abbe, grade, clear_percent,
 *                                    dark_percent, dark_after_s, clear_half_life_s, at_temperature_c, source  (with design_id: changes it)
 * POST /lens-book/labs               name                                                       (with lab_id: changes it)
 * POST /lens-book/labs/:labId/terms  what, days, from, times
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

type DesignEntry = {
  readonly designId: string;
  readonly name: string;
  readonly kind: string;
  /** "15 mm, from the cross to 85 % of the add"; empty when not known. */
  readonly corridor: string;
  readonly minimumHeight: string;
  readonly index: string;
  readonly abbe: string;
  /** "ordinary grade, 88 % clear, 15 % dark at 23 °C"; empty when not light-reactive. */
  readonly lightReactive: string;
  /** Where the figures are from. */
  readonly source: string;
  /** Jobs that use it. */
  readonly jobs: number;
};

export type LabEntry = {
  readonly labId: string;
  readonly name: string;
  /** "settling: 60 days from its invoice, once". */
  readonly terms: readonly string[];
};

export type LensBookView = {
  readonly designs: readonly DesignEntry[];
  readonly labs: readonly LabEntry[];
  readonly kinds: readonly { readonly value: string; readonly words: string }[];
  /** Which form was refused: "design", "lab" or a lab's id; null when none. */
  readonly refused: string | null;
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};

/*
 * GET  /jobs/:id/photo                    photographs of this pair, one to hand in
 * POST /jobs/:id/photo                    picture (file), or sent_picture (one that the wearer sent)
 * GET  /jobs/:id/photo/:picture           ?quarter=0|90|180|270 turns it
 * POST /jobs/:id/photo/:picture/marks     r_outer_x … l_pupil_y, r_ear_x, l_ear_x (optional), level_deg, quarter, a_mm, b_mm, dbl_mm,
 *                                         camera_cm, stood_as_usual
 * POST /jobs/:id/photo/:picture/sign      measure_id, person_id
 * GET  /face-pictures/:picture            the picture itself
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

export type PhotosView = {
  readonly jobId: string;
  readonly jobNumber: string;
  readonly jobHref: string;
  readonly wearer: string;
  readonly caseHref: string | null;
  /** Those handed in before, newest first; `href` null once removed. */
  readonly pictures: readonly {
    readonly href: string | null;
    readonly src: string | null;
    readonly words: string;
  }[];
  /** Those that the wearer sent, to measure on. */
  readonly sent: readonly { readonly pictureId: string; readonly src: string; readonly words: string }[];
  readonly troubles: readonly FieldTrouble[];
};

/** One number: told with its plus-minus, or not told and why. */
export type PhotoLine = {
  readonly name: string;
  /** "31.4 mm ± 0.9"; null when it cannot be said. */
  readonly found: string | null;
  /** "± 2.6 mm", also when nothing can be said. */
  readonly plusMinus: string;
  /** As ordered; empty when it is not on record. */
  readonly ordered: string;
  /** "1.2 mm more than ordered", "as ordered, as near as can be said"; empty when there is nothing to compare. */
  readonly against: string;
  /** "head tilt 2.4, marks 0.6, …". */
  readonly from: string;
};

export type PhotoMarksView = {
  readonly jobId: string;
  readonly jobNumber: string;
  readonly jobHref: string;
  readonly wearer: string;
  readonly caseHref: string | null;
  readonly pictureId: string;
  readonly src: string;
  /** "sent by the wearer, Thu 27 Aug". */
  readonly came: string;
  /** Size as it is shown, after quarter turns; the size of the file for the turning. */
  readonly width: number;
  readonly height: number;
  readonly fileWidth: number;
  readonly fileHeight: number;
  readonly quarter: number;
  /** What stands in every field; a mark that nobody set stands where one begins. */
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
  /** Null before the first reckoning. */
  readonly result: {
    readonly measureId: string;
    readonly lines: readonly PhotoLine[];
    /** "The head seems turned by 2° to the wearer’s left." */
    readonly doubts: readonly string[];
    readonly by: string;
    readonly signed: string | null;
    /** True when at least one number can be kept. */
    readonly canSign: boolean;
  } | null;
  readonly signers: readonly { readonly personId: string; readonly words: string }[];
};

/*
 * GET  /jobs/:id/measure
 * POST /jobs/:id/measure/send    channel (text | email)
 * POST /jobs/:id/measure/tape    right_mm, left_mm
 * POST /jobs/:id/measure/photo   lens_height_mm, lens_height_in_picture, pupil_right_in_picture, pupil_left_in_picture,
 *                                bridge_right_in_picture, bridge_left_in_picture, camera_cm (the last three optional)
 * GET  /jobs/:id/measure-sheet   ?lang=en|es    the sheet to print
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

export type MeasureAtHomeView = {
  readonly jobId: string;
  readonly jobNumber: string;
  readonly jobHref: string;
  readonly wearer: string;
  readonly caseHref: string | null;
  /** The printed sheet in each language; the wearer's own first. */
  readonly sheets: readonly { readonly words: string; readonly href: string }[];
  /** Ways to send it; one that cannot be used says why. */
  readonly channels: readonly {
    readonly value: 'text' | 'email';
    readonly words: string;
    readonly cannot: string | null;
  }[];
  /** What a message says: the link, or the whole instructions. */
  readonly sends: string;
  /** "18.0 R, 18.0 L ordered"; empty where it is not on record, with what that means. */
  readonly fittingHeight: string;
  /** Height of the lens on record, for the scale of a photograph; empty when not. */
  readonly lensHeightMm: string;
  readonly errors: { readonly tape: string; readonly photo: string };
  /** What came back before, newest last. */
  readonly kept: readonly {
    readonly name: string;
    readonly right: string;
    readonly left: string;
    readonly from: string;
  }[];
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};

/*
 * GET  /w/:token
 * POST /w/:token    what (pupil_below_mark | pupil_above_mark | level …), right_mm, left_mm, photo (file, optional)
 */
import type { ForWearer } from '../view.ts';

export type MeasureView = {
  readonly about: ForWearer;
  /** What is asked for: marks on the lens against the pupil, or a straight-on photograph. */
  readonly kind: 'marks' | 'photo';
  readonly thanks: string | null;
  /** What was wrong with what was sent; empty when nothing. */
  readonly trouble: string;
};

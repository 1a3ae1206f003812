/*
 * GET  /w/:token    what = photo shows the photograph instead
 * POST /w/:token    what (marks | photo), right_mm, left_mm, photo (file)
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

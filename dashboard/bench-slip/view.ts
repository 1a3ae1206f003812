/*
 * GET /jobs/:id/slip    printed: the bench check with initials
 */

import type { CheckLine } from '../job/view.ts';
import type { LensPicture } from '../pictures/lens/view.ts';

export type BenchSlipView = {
  readonly shopName: string;
  readonly invented: boolean;
  readonly on: string;
  readonly jobHref: string;
  readonly jobNumber: string;
  readonly wearer: string;
  readonly pair: string;
  readonly standard: string;
  readonly verdict: string;
  readonly lines: readonly CheckLine[];
  readonly picture: LensPicture | null;
  /** "Confirm against your copy of the standard" and the like. */
  readonly cautions: readonly string[];
};

/*
 * GET  /jobs/:id/slip             printed: the bench check with initials
 * POST /jobs/:id/slip/hold        why                    (before it leaves)
 * POST /jobs/:id/slip/release     why (by the person at the screen; without a licence it is to be signed)
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
  /** Holding the pair back; left out where nothing can be done about it here. */
  readonly hold?: {
    readonly csrf: string;
    /** `may be held`: not left yet; `held`; `to be signed`: let go by somebody without a licence; `let go`: nothing to do. */
    readonly state: 'may be held' | 'held' | 'to be signed' | 'let go';
    /** "Held by Ana Brook, today 10:42: R fitting height is out."; empty when it never was. */
    readonly stands: string;
    /** Written in the field, to be changed. */
    readonly why: string;
    readonly signers: readonly { readonly personId: string; readonly words: string }[];
  };
  /** The person at the screen, who holds, releases and signs. */
  readonly me?: string;
  /** What was wrong with what was sent; empty when nothing. */
  readonly trouble?: string;
};

/*
 * GET  /cases/:id/remake       the draft
 * POST /cases/:id/remake/sign  cause, seen_version, refraction_checked, checked_by_other (second remake)
 * POST /cases/:id/remake/keep  cause                    (to be signed by a licensed person later)
 * Printed, it is the order note. Nothing goes to a lab by itself.
 */
import type { Trace } from '../pieces/view.ts';

export type OrderNoteView = {
  readonly shopName: string;
  readonly invented: boolean;
  readonly on: string;
  readonly caseId: string;
  readonly caseHref: string;
  readonly version: number;
  readonly jobNumber: string;
  readonly wearer: string;
  readonly pair: string;
  readonly lab: string;
  /** "the lab’s remake window: 4 days left, Mon 31 Aug". */
  readonly window: string;
  /** "settling", "made wrong" … as the lab is told. */
  readonly reason: string;
  /** What changes, each with its because. */
  readonly changes: readonly {
    readonly name: string;
    readonly from: string;
    readonly to: string;
    readonly because: string;
    readonly trace: Trace | null;
  }[];
  /** The whole order as it would go out. */
  readonly order: readonly {
    readonly name: string;
    readonly right: string;
    readonly left: string;
    readonly both: string;
  }[];
  /** What the changed job would be like: tolerance and expectation, recomputed. */
  readonly expect: readonly string[];
  /** Set for a second remake: both must be answered before it is signed. */
  readonly second: boolean;
  /** Who may sign: licensed people only. */
  /** The person at the screen, who signs. */
  readonly me?: string;
  readonly signers: readonly { readonly personId: string; readonly words: string }[];
  readonly signed: { readonly by: string; readonly licence: string; readonly when: string } | null;
  /** The job that its signature drafted; left out before. */
  readonly drafted?: { readonly words: string; readonly href: string };
  /** Posted back: the cause that it is drafted for. */
  readonly cause?: string;
  /** Other causes that it could be drafted for. */
  readonly others?: readonly { readonly words: string; readonly href: string }[];
  /** "Kept to be signed: Ana Brook, today 10:42." */
  readonly kept?: readonly string[];
  /** What was wrong with what was sent; empty when nothing. */
  readonly trouble?: string;
};

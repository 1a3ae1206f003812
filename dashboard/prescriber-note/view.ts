/*
 * GET  /cases/:id/prescriber        one page, printed or copied; sent only by a person
 * POST /cases/:id/prescriber/sign   question (the question put), seen_version
 * POST /cases/:id/prescriber/keep   question                 (to be signed by a licensed person later)
 */
import type { MarkedWords } from '../pieces/view.ts';

export type PrescriberNoteView = {
  readonly shopName: string;
  readonly shopPhone: string;
  readonly invented: boolean;
  readonly on: string;
  readonly caseId: string;
  readonly caseHref: string;
  readonly version: number;
  readonly wearer: string;
  readonly born: string;
  /** Prescription, order, our readings: R over L. */
  readonly powers: readonly { readonly name: string; readonly right: string; readonly left: string }[];
  /** Place on the face, one line each. */
  readonly place: readonly string[];
  /** The complaint in the wearer's words. */
  readonly words: readonly { readonly words: MarkedWords; readonly when: string }[];
  readonly tried: readonly string[];
  /** The question put to the prescriber; may be changed before it is signed. */
  readonly question: string;
  /** Who may sign, and the person at the screen, who does. */
  readonly me?: string;
  readonly signers: readonly { readonly personId: string; readonly words: string }[];
  readonly signed: { readonly by: string; readonly licence: string; readonly when: string } | null;
  /** What else was read or asked, one line each. */
  readonly seen?: readonly string[];
  /** A caution that belongs to the leading cause. */
  readonly caution?: string;
  /** "Kept to be signed: Ana Brook, today 10:42." */
  readonly kept?: readonly string[];
  /** What was wrong with what was sent; empty when nothing. */
  readonly trouble?: string;
};

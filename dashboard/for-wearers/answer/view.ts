/*
 * GET  /w/:token
 * POST /w/:token    answer (1 to 5, or a, b, c for a question), or text and photo; lang
 */
import type { ForWearer } from '../view.ts';

export type AnswerView = {
  readonly about: ForWearer;
  /** Null for the check-in with its five answers; else the question that was asked, with its tap answers. */
  readonly question: {
    readonly text: string;
    readonly answers: readonly { readonly key: string; readonly words: string }[];
  } | null;
  /** Something was sent by this link before; what it was is not told to whoever opens it. */
  readonly answered: boolean;
  /** What was wrong with what was sent; empty when nothing. */
  readonly trouble: string;
  /** After sending: what is said back; null before. */
  readonly thanks: string | null;
  /** After a sign of danger: the caution, said at once on the page as well. */
  readonly caution: readonly string[];
};

/*
 * GET  /w/:token
 * POST /w/:token/answer    answer (1 to 5, or a, b, c for a question), text, lang
 */
import type { ForWearer } from '../view.ts';

export type AnswerView = {
  readonly about: ForWearer;
  /** Null for the check-in with its five answers; else the question that was asked, with its tap answers. */
  readonly question: {
    readonly id: string;
    readonly text: string;
    readonly answers: readonly { readonly key: string; readonly words: string }[];
  } | null;
  /** After sending: what is said back; null before. */
  readonly thanks: string | null;
};

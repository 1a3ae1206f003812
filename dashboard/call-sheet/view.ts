/*
 * GET  /ring-list/:ringId
 * POST /ring-list/:ringId/attempt   what (spoke | no answer | left message | wrong number | again at), again_at, note
 * POST /ring-list/:ringId/answer    question_id, answer       when there is a case; comes back with the next question
 * POST /ring-list/:ringId/said      text, answer (1 to 4, optional), once    what they said, sorted like any reply
 */
import type { FieldTrouble, FormValues, MarkedWords } from '../pieces/view.ts';

export type CallSheetView = {
  readonly ringId: string;
  readonly caseId: string | null;
  readonly wearer: string;
  readonly phone: string | null;
  readonly localTime: string;
  /** "first multifocal, soft 15; day 9". */
  readonly pair: string;
  readonly why: string;
  /** Danger signs to listen for come first on every call sheet. */
  readonly listenFor: readonly string[];
  /** How to begin: "This is … from …, about your new glasses." */
  readonly opening: string;
  readonly lastWords: { readonly words: MarkedWords; readonly when: string } | null;
  /** The same question that would be sent, with tap answers; null when there is none. */
  readonly question: {
    readonly id: string;
    readonly text: string;
    readonly answers: readonly { readonly key: string; readonly words: string }[];
  } | null;
  /** What may be said on a voice message. */
  readonly voiceMessage: string;
  readonly attempts: readonly string[];
  /** Rides in the form, so that a double press is one call. */
  readonly once?: string;
  readonly values?: FormValues;
  readonly troubles?: readonly FieldTrouble[];
};

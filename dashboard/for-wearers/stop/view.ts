/*
 * GET  /w/:token
 * POST /w/:token    stop (text | email | all); or a mail program's own button (RFC 8058)
 */
import type { ForWearer } from '../view.ts';

export type StopView = {
  readonly about: ForWearer;
  /** Ways on which messages still go. */
  readonly channels: readonly ('text' | 'email')[];
  readonly done: boolean;
};

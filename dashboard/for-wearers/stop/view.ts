/*
 * GET  /w/:token/stop
 * POST /w/:token/stop    channel (text | email | all)
 */
import type { ForWearer } from '../view.ts';

export type StopView = {
  readonly about: ForWearer;
  /** Ways on which messages still go. */
  readonly channels: readonly ('text' | 'email')[];
  readonly done: boolean;
};

/*
 * What a link shows that has run out (410), or that is none of ours (404): then nothing of shop or wearer.
 */
import type { ForWearer } from '../view.ts';

export type NoLinkView = {
  readonly lang: 'en' | 'es';
  /** How the shop can be reached, for a link that was ours and has run out; null for any other. */
  readonly about: ForWearer | null;
  /** Too many tries from one place in a short time. */
  readonly tooOften: boolean;
};

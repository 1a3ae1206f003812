/*
 * GET  /words         text (a sentence to try), asked (check-in | none), locale
 * POST /words/kept    ask, locale, text (empty: ours stands)
 */
import type { MarkedWords } from '../pieces/view.ts';

export type WordsView = {
  /** The sentence tried; empty before. */
  readonly tried: string;
  readonly locale: 'en' | 'es';
  readonly asked: 'none' | 'check-in';
  /** Null before a sentence was tried. */
  readonly reading: {
    readonly words: MarkedWords;
    readonly labels: readonly {
      readonly id: string;
      readonly means: string;
      readonly passages: readonly string[];
    }[];
    readonly asks: readonly string[];
    readonly urgent: boolean;
    readonly stop: boolean;
    /** What would happen: "goes to a person at once", "answered with …", "to the tray: …". */
    readonly would: readonly string[];
  } | null;
  readonly labelGroups: readonly {
    readonly name: string;
    readonly labels: readonly { readonly id: string; readonly means: string }[];
  }[];
  /** Corrections by staff, newest first. */
  readonly corrections: readonly {
    readonly when: string;
    readonly by: string;
    readonly words: string;
    readonly lang: 'en' | 'es';
    readonly before: readonly string[];
    readonly after: readonly string[];
    readonly why: string;
  }[];
  readonly sorterVersion: string;
  /** Answers to what wearers always ask, in the language chosen above. */
  readonly kept: {
    readonly ending: string;
    readonly otherHref: string;
    readonly otherWords: string;
    readonly answers: readonly {
      readonly ask: string;
      /** The question in a few words. */
      readonly about: string;
      /** The shop's own words, as typed; empty: none. */
      readonly own: string;
      /** Our words; empty where only the shop can know the answer. */
      readonly ours: string;
      readonly trouble: string | null;
    }[];
  };
};

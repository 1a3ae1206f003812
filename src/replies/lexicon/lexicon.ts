import type { Locale } from '../types.ts';
import type { LabelPhrases } from './labelPhrases.ts';
import type { Classes } from './phrases.ts';

/** All that is known of one language. */
export type Lexicon = {
  readonly locale: Locale;
  readonly layers: readonly Classes[];
  readonly labels: readonly LabelPhrases[];
  readonly lightWords: readonly string[];
  readonly politeWords: readonly string[];
  readonly denials: readonly string[];
  readonly notDenials: readonly string[];
};

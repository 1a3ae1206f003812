import type { Locale } from '../types.ts';
import type { AskPhrases, LabelPhrases } from './labelPhrases.ts';
import type { Classes } from './phrases.ts';

/** All that is known of one language. */
export type Lexicon = {
  readonly locale: Locale;
  /** Whether the trained second reader knows this language. */
  readonly hasSecondReader: boolean;
  readonly layers: readonly Classes[];
  readonly labels: readonly LabelPhrases[];
  readonly asks: readonly AskPhrases[];
  /** How a sentence that asks begins. */
  readonly askingWords: readonly string[];
  /** Words that may be a stop: a person decides. */
  readonly maybeStop: readonly string[];
  /** Those phrases of `stop` that tell of a death or grave illness. */
  readonly bereavement: readonly string[];
  /** Words of body, sight, suddenness and hurt that must not go unread. */
  readonly weightyWords: readonly string[];
  readonly extent: ExtentPhrases;
  readonly lightWords: readonly string[];
  readonly politeWords: readonly string[];
  readonly denials: readonly string[];
  /** Words past which a denial does not reach. */
  readonly denialEnds: readonly string[];
  readonly notDenials: readonly string[];
};

/** Phrases that tell how much, which eye and since when. */
export type ExtentPhrases = {
  readonly worse: readonly string[];
  readonly same: readonly string[];
  readonly better: readonly string[];
  readonly right: readonly string[];
  readonly left: readonly string[];
  readonly bothEyes: readonly string[];
  readonly day: readonly string[];
  readonly week: readonly string[];
};

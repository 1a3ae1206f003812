import type { Ask, Label } from '../types.ts';

/**
 * What a wearer says when a label holds. `say`: the phrases. `not`: phrases that take away a match which they overlap
 * ("fell asleep"). `notWith`: phrases that take away a match anywhere in the same sentence. `even`: states that
 * usually take a label away, but not this one.
 */
export type LabelPhrases = {
  readonly label: Label;
  readonly say: readonly string[];
  /** Phrases that count only where something is asked: a question mark, or a question word that begins the clause. */
  readonly sayAsking?: readonly string[];
  readonly not?: readonly string[];
  readonly notWith?: readonly string[];
  readonly even?: readonly ('denied' | 'over' | 'other' | 'supposed' | 'asked')[];
};

export type AskPhrases = { readonly ask: Ask; readonly say: readonly string[] };

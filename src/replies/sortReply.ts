import { englishLexicon } from './lexicon/en/lexicon.ts';
import { normalise } from './normalise.ts';
import { settle } from './settle.ts';
import { makeSorter } from './sorter.ts';
import { LABELS, type Label, type Reading, type SortInput, type Span } from './types.ts';

export const SORTER_VERSION = '1';

const sortEnglish = makeSorter(englishLexicon);

/** Reads a wearer's reply into labels, asks and the words that gave them. Pure; never throws on any text. */
export function sortReply(input: SortInput): Reading {
  const tokens = normalise(input.text, 'en');
  const evidence = sortEnglish(tokens);
  const held = settle(evidence);
  const given = new Set(held.map((reason) => reason.label));
  const labels = LABELS.filter((label) => given.has(label));
  const spans: Span[] = held.map((reason) => ({
    label: reason.label,
    start: tokens[reason.start]?.start ?? 0,
    end: tokens[reason.end]?.end ?? 0,
  }));
  return {
    labels,
    urgent: given.has('urgent-eye') || given.has('fall-or-injury'),
    stop: given.has('stop'),
    stopDoubtful: false,
    asks: [],
    spans,
    leftOver: [],
    extent: {},
    locale: 'en',
    sorterVersion: SORTER_VERSION,
  };
}

export type { Label };

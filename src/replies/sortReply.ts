import { bareAnswerOf } from './bareAnswer.ts';
import { extentOf } from './extent.ts';
import { englishLexicon } from './lexicon/en/lexicon.ts';
import { spanishLexicon } from './lexicon/es/lexicon.ts';
import { readLocale } from './locale.ts';
import { normalise, type Token } from './normalise.ts';
import { SECOND_READER, settle } from './settle.ts';
import { type Evidence, makeSorter, type Reason } from './sorter.ts';
import { stopChannelOf } from './stopChannel.ts';
import {
  ASKS,
  type Ask,
  LABELS,
  type Label,
  type Locale,
  type Reading,
  type SortInput,
  type Span,
} from './types.ts';

/** Kept with every reading, so that a reading can be told from one made with another lexicon. */
export const SORTER_VERSION = '2026-11-25.3';

const sorters: Readonly<Record<Locale, (tokens: readonly Token[]) => Evidence>> = {
  en: makeSorter(englishLexicon),
  es: makeSorter(spanishLexicon),
};
/** From this chance on a person looks before anything automatic is sent. */
const DOUBTFUL_STOP = 0.2;
const SAFETY: ReadonlySet<Label> = new Set(['urgent-eye', 'fall-or-injury', 'stop']);

/**
 * Reads a wearer's reply: labels, asks, a bare answer, and the words that gave each. Pure; throws on no text; the
 * work grows with the length of the text and no faster. Quoted text and signatures are taken off before.
 */
export function sortReply(input: SortInput): Reading {
  const { text, asked } = input;
  const { locale, mixed } = readLocale(text, input.locale);
  const tokens = normalise(text, locale);
  const evidence = sorters[locale](tokens);
  const { reasons: held, stopChance } = settle(evidence);
  const spans: Span[] = held.flatMap((reason) => spansOf(tokens, reason));
  const given = new Set<Label>(held.map((reason) => reason.label));
  if (mixed) {
    for (const span of safetySpans(text, locale === 'en' ? 'es' : 'en')) {
      spans.push(span);
      given.add(span.label as Label);
    }
  }
  const asks = asksOf(evidence, given);
  for (const found of evidence.asks)
    if (asks.includes(found.ask)) spans.push({ label: found.ask, ...placeOf(tokens, found) });
  const bareAnswer = bareAnswerOf(tokens, asked);
  const stopChannel = given.has('stop') ? stopChannelOf(evidence, held) : undefined;
  return {
    labels: LABELS.filter((label) => given.has(label)),
    urgent: given.has('urgent-eye') || given.has('fall-or-injury'),
    stop: given.has('stop'),
    ...(stopChannel === undefined ? {} : { stopChannel }),
    stopDoubtful:
      !given.has('stop') && !given.has('resume') && (evidence.maybeStop || stopChance >= DOUBTFUL_STOP),
    personOnly: evidence.bereaved,
    asks,
    spans: withoutRepeats(spans),
    leftOver: leftOverOf(evidence, held),
    ...(bareAnswer === undefined ? {} : { bareAnswer }),
    extent: extentOf(text, evidence, held),
    locale,
    sorterVersion: SORTER_VERSION,
  };
}

function placeOf(
  tokens: readonly Token[],
  found: { start: number; end: number },
): { start: number; end: number } {
  return { start: tokens[found.start]!.start, end: tokens[found.end]!.end };
}

/** The words of a phrase as one passage; the words that spoke for a label without one, each by itself. */
function spansOf(tokens: readonly Token[], reason: Reason): Span[] {
  const passages =
    reason.phrase === SECOND_READER ? reason.used.map((at) => ({ start: at, end: at })) : [reason];
  return passages.map((passage) => ({ label: reason.label, ...placeOf(tokens, passage) }));
}

/** In a reply of two languages the danger signs and the stop of both are looked for. */
function safetySpans(text: string, locale: Locale): Span[] {
  const tokens = normalise(text, locale);
  return settle(sorters[locale](tokens))
    .reasons.filter((reason) => SAFETY.has(reason.label))
    .map((reason) => ({ label: reason.label, ...placeOf(tokens, reason) }));
}

function asksOf(evidence: Evidence, given: ReadonlySet<Label>): readonly Ask[] {
  if (!given.has('wants-contact') && !given.has('not-arrived')) return [];
  const found = new Set(evidence.asks.map((one) => one.ask));
  const asking = evidence.asking.some((one) => one);
  if (found.size === 0 && asking && given.has('wants-contact')) return ['other'];
  return ASKS.filter((ask) => found.has(ask));
}

/** Words of weight that no phrase that was weighed stands on, in clauses where nothing was read. */
function leftOverOf(evidence: Evidence, held: readonly Reason[]): { start: number; end: number }[] {
  const { tokens } = evidence.board;
  const read = new Set(held.flatMap((reason) => reason.used.map((at) => tokens[at]?.clause)));
  const weighed = new Set(evidence.reasons.flatMap((reason) => reason.used));
  return evidence.weighty
    .filter((at) => !weighed.has(at) && !read.has(tokens[at]?.clause))
    .map((at) => ({ start: tokens[at]!.start, end: tokens[at]!.end }));
}

function withoutRepeats(spans: readonly Span[]): Span[] {
  const seen = new Set<string>();
  return spans.filter((span) => {
    const key = `${span.label} ${span.start} ${span.end}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

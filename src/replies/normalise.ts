import { pictureWords } from './lexicon/pictures.ts';
import { shortForms } from './lexicon/shortForms.ts';
import type { Locale } from './types.ts';

/** A word as read. `start` and `end` are UTF-16 offsets in the given text; `clause` and `sentence` count from 0. */
export type Token = {
  readonly word: string;
  readonly start: number;
  readonly end: number;
  readonly clause: number;
  readonly sentence: number;
  /** Counts sentences too, but begins anew after a word of contrast ("but"). */
  readonly section: number;
  /** The mark that closed the sentence of this word: a question is read otherwise than a statement. */
  asked: boolean;
};

/** A sentence or clause longer than this is cut, so that the work on one never grows faster than the text. */
const LONGEST_CLAUSE = 40;
const LONGEST_SENTENCE = 90;

const CLAUSE_OPENERS = new Set([
  'but',
  'although',
  'though',
  'tho',
  'except',
  'however',
  'otherwise',
  'whereas',
  'yet',
  'because',
  'apart',
  'pero',
  'aunque',
  'excepto',
  'salvo',
  'porque',
  'sino',
]);
const CONTRASTS = new Set([
  'but',
  'although',
  'though',
  'except',
  'however',
  'otherwise',
  'whereas',
  'yet',
  'pero',
  'aunque',
  'sino',
]);
const TITLES = new Set(['mr', 'mrs', 'ms', 'dr', 'st', 'sr', 'sra', 'fr', 'prof', 'approx', 'vs', 'etc']);

/**
 * Splits a reply into words, clauses and sentences. Case, accents, curly quotes, full-width letters and emoji are
 * evened out; short forms and contractions become their full words at the offsets of what was written.
 */
export function normalise(text: string, locale: Locale = 'en'): Token[] {
  const short = shortForms[locale];
  const tokens: Token[] = [];
  const place: Place = { clause: 0, sentence: 0, section: 0, inClause: 0, inSentence: 0 };
  let at = 0;
  while (at < text.length) {
    const code = text.codePointAt(at) ?? 0;
    const width = code > 0xffff ? 2 : 1;
    if (isWordCode(code)) {
      const end = wordEnd(text, at);
      addWord(tokens, place, text.slice(at, end), at, end, short);
      at = end;
      continue;
    }
    const picture = pictureWords.get(String.fromCodePoint(code));
    if (picture !== undefined) {
      push(tokens, place, picture, at, at + width);
      at += width;
      continue;
    }
    if (code === 0x5c && (text[at + 1] === 'n' || text[at + 1] === 'r')) {
      endSentence(tokens, place, false);
      at += 2;
      continue;
    }
    readMark(tokens, place, text, at, code);
    at += width;
  }
  return tokens;
}

type Place = { clause: number; sentence: number; section: number; inClause: number; inSentence: number };

function isWordCode(code: number): boolean {
  if (code < 128)
    return (code >= 97 && code <= 122) || (code >= 65 && code <= 90) || (code >= 48 && code <= 57);
  if (code >= 0xc0 && code <= 0x24f) return code !== 0xd7 && code !== 0xf7;
  return code >= 0xff10 && code <= 0xff5a && /[０-９Ａ-Ｚａ-ｚ]/u.test(String.fromCodePoint(code));
}

const APOSTROPHES = new Set([0x27, 0x2019, 0x2018, 0x60, 0xb4, 0x2bc, 0xff07]);

function wordEnd(text: string, start: number): number {
  let end = start;
  while (end < text.length) {
    const code = text.charCodeAt(end);
    const inside = isWordCode(code) || (code >= 0x300 && code <= 0x36f) || code === 0x200d || code === 0xad;
    const joining =
      (APOSTROPHES.has(code) && isWordCode(text.charCodeAt(end + 1) || 0)) ||
      ((code === 0x2e || code === 0x3a || code === 0x2c) &&
        isDigit(text.charCodeAt(end - 1)) &&
        isDigit(text.charCodeAt(end + 1) || 0));
    if (!inside && !joining) break;
    end += 1;
  }
  return end;
}

function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}

/** Lower case, no accents (the Spanish ñ too), no apostrophes, compatibility forms made plain. */
export function foldWord(word: string): string {
  let plain = true;
  for (let i = 0; i < word.length; i += 1) {
    const code = word.charCodeAt(i);
    if (!((code >= 97 && code <= 122) || isDigit(code))) {
      plain = false;
      break;
    }
  }
  if (plain) return word;
  return word
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9.:,]/gu, '');
}

type ShortForms = ReadonlyMap<string, readonly string[]>;

function addWord(
  tokens: Token[],
  place: Place,
  raw: string,
  start: number,
  end: number,
  short: ShortForms,
): void {
  const folded = foldWord(raw.length > 60 ? raw.slice(0, 60) : raw);
  if (folded === '') return;
  if (readSpokenMark(tokens, place, folded)) return;
  const full = short.get(folded);
  if (full !== undefined) {
    for (const word of full) push(tokens, place, word, start, end);
    return;
  }
  if (CLAUSE_OPENERS.has(folded)) endClause(place);
  if (CONTRASTS.has(folded) && place.inSentence > 0) place.section += 1;
  const parts = /^(\d+)([a-z]{1,8})$/u.exec(folded);
  if (parts?.[1] !== undefined && parts[2] !== undefined && !/^(st|nd|rd|th|d)$/u.test(parts[2])) {
    push(tokens, place, parts[1], start, end);
    const unit = short.get(parts[2]);
    for (const word of unit ?? [parts[2]]) push(tokens, place, word, start, end);
    return;
  }
  push(tokens, place, folded, start, end);
}

const DETERMINERS = new Set([
  'a',
  'the',
  'my',
  'trial',
  'settling',
  'this',
  'that',
  'returns',
  'return',
  'grace',
]);

/** A dictated mark ("full stop", "question mark", "comma"): true when the word was one. */
function readSpokenMark(tokens: Token[], place: Place, word: string): boolean {
  const last = tokens.at(-1);
  if (last === undefined || last.sentence !== place.sentence) return false;
  const twoWords =
    (word === 'stop' && last.word === 'full') ||
    (word === 'mark' && (last.word === 'question' || last.word === 'exclamation'));
  if (twoWords) {
    tokens.pop();
    endSentence(tokens, place, last.word === 'question');
    return true;
  }
  if (word === 'period' && tokens.length > 2 && !DETERMINERS.has(last.word)) {
    endSentence(tokens, place, false);
    return true;
  }
  if (word === 'comma') {
    endClause(place);
    return true;
  }
  return false;
}

function push(tokens: Token[], place: Place, word: string, start: number, end: number): void {
  if (place.inSentence >= LONGEST_SENTENCE) endSentence(tokens, place, false);
  else if (place.inClause >= LONGEST_CLAUSE) endClause(place);
  tokens.push({
    word,
    start,
    end,
    clause: place.clause,
    sentence: place.sentence,
    section: place.section,
    asked: false,
  });
  place.inClause += 1;
  place.inSentence += 1;
}

function endClause(place: Place): void {
  if (place.inClause === 0) return;
  place.clause += 1;
  place.inClause = 0;
}

function endSentence(tokens: Token[], place: Place, asked: boolean): void {
  if (asked)
    for (let i = tokens.length - 1; i >= 0 && tokens[i]?.sentence === place.sentence; i -= 1) {
      const token = tokens[i];
      if (token !== undefined) token.asked = true;
    }
  if (place.inSentence === 0) return;
  place.clause += 1;
  place.sentence += 1;
  place.section += 1;
  place.inClause = 0;
  place.inSentence = 0;
}

/** Exclamation mark, line ends, semicolon. */
const SENTENCE_ENDS = new Set([0x21, 0x0a, 0x0d, 0x3b, 0x2028, 0x2029]);
const QUESTION_MARKS = new Set([0x3f, 0xff1f]);
/** Comma, brackets, ellipsis, long dashes. */
const CLAUSE_ENDS = new Set([0x2c, 0x28, 0x29, 0x2026, 0x2014, 0x2013]);
const AND_SIGNS = new Set([0x26, 0x2b]);
const MONEY_SIGNS = new Set([0x24, 0xa3, 0x20ac]);
const FULL_STOP = 0x2e;
const HYPHEN = 0x2d;

function readMark(tokens: Token[], place: Place, text: string, at: number, code: number): void {
  if (SENTENCE_ENDS.has(code)) endSentence(tokens, place, false);
  else if (QUESTION_MARKS.has(code)) markAsked(tokens, place);
  else if (CLAUSE_ENDS.has(code)) endClause(place);
  else if (AND_SIGNS.has(code)) push(tokens, place, 'and', at, at + 1);
  else if (MONEY_SIGNS.has(code)) push(tokens, place, 'moneysign', at, at + 1);
  else if (code === HYPHEN && (text[at - 1] === ' ' || text[at + 1] === ' ')) endClause(place);
  else if (code === FULL_STOP) readFullStop(tokens, place, text, at);
}

/** A full stop ends a sentence, save after a title ("Mrs.") or an initial; more of them are a pause. */
function readFullStop(tokens: Token[], place: Place, text: string, at: number): void {
  if (text[at + 1] === '.' || text[at - 1] === '.') {
    endClause(place);
    return;
  }
  const last = tokens.at(-1);
  const shortened =
    last !== undefined && last.end === at && (TITLES.has(last.word) || /^[b-z]$/u.test(last.word));
  if (!shortened) endSentence(tokens, place, false);
}

function markAsked(tokens: Token[], place: Place): void {
  if (place.inSentence > 0) {
    endSentence(tokens, place, true);
    return;
  }
  const sentence = tokens.at(-1)?.sentence;
  for (let i = tokens.length - 1; i >= 0 && tokens[i]?.sentence === sentence; i -= 1) {
    const token = tokens[i];
    if (token !== undefined) token.asked = true;
  }
}

import type { Board } from '../matcher.ts';
import { wordForms } from '../wordForms.ts';

/**
 * One thing that the second reader looks at, how much of it there is, and the token that it stands on. Words, pairs of
 * neighbours and scraps of words are named by text, ideas (classes of the lexicon) and pairs of ideas by number.
 */
export type Feature = { readonly key: string | number; readonly amount: number; readonly at: number };

const WORD = 1;
const NEIGHBOURS = 0.7;
const DENIED_WORD = 0.7;
const ASKED_WORD = 0.7;
const SCRAP = 0.35;
const IDEA = 1;
const IDEAS_TOGETHER = 0.3;
const MOST_IDEAS_IN_CLAUSE = 24;
const MOST_TOKENS = 120;
const SCRAP_LENGTH = 4;
/** The length to which the features of a reply are brought, so that long and short replies weigh the same. */
const LENGTH = 2.5;
const PAIR_STEP = 65_536;
const DENIALS = new Set('not no never nor without nothing none neither hardly barely cannot'.split(' '));

export function pairKey(a: number, b: number): number {
  return (Math.min(a, b) + 1) * PAIR_STEP + Math.max(a, b);
}

/**
 * What the second reader sees of a reply: `w` its words, `b` pairs of neighbouring words, `n` words after a denial of
 * their clause, `q` words of a question, `f` and `l` the first and last word, `c` scraps of four letters (so that a
 * slip of the finger leaves most of a word standing), the classes of the lexicon and the pairs that share a clause.
 */
export function featuresOf(
  board: Board,
  asking: readonly boolean[],
  isClass: ReadonlySet<number>,
  { start, end }: Stretch = { start: 0, end: Math.min(board.tokens.length, MOST_TOKENS) },
): Feature[] {
  const { tokens, starts, light, edge } = board;
  const out: Feature[] = [];
  const words = new Set<string>();
  const numbers = new Set<number>();
  const add = (key: string, amount: number, at: number) => {
    if (words.has(key)) return;
    words.add(key);
    out.push({ key, amount, at });
  };
  const addIdea = (key: number, amount: number, at: number) => {
    if (numbers.has(key)) return;
    numbers.add(key);
    out.push({ key, amount, at });
  };
  let before: string | undefined;
  let ideas = new Map<number, number>();
  let denied = false;
  for (let at = start; at < end; at += 1) {
    const token = tokens[at]!;
    const { lemma, word, afterDenial, asked, scraps } = keysOf(token.word);
    if (tokens[at - 1]?.clause !== token.clause) {
      addPairs(ideas, addIdea);
      ideas = new Map();
      denied = false;
    }
    if (DENIALS.has(token.word)) denied = true;
    const weighty = !light[at] && !edge[at];
    add(word, WORD, at);
    if (denied && weighty) add(afterDenial, DENIED_WORD, at);
    if (asking[at]) add(asked, ASKED_WORD, at);
    if (before !== undefined && tokens[at - 1]?.sentence === token.sentence)
      add(`b${before} ${lemma}`, NEIGHBOURS, at);
    before = lemma;
    for (const scrap of scraps) add(scrap, SCRAP, at);
    for (const one of starts[at]!) {
      if (!isClass.has(one.id)) continue;
      addIdea(one.id, IDEA, at);
      if (!ideas.has(one.id)) ideas.set(one.id, at);
    }
  }
  addPairs(ideas, addIdea);
  if (end > start) {
    add(`f${keysOf(tokens[start]!.word).lemma}`, WORD, start);
    add(`l${keysOf(tokens[end - 1]!.word).lemma}`, WORD, end - 1);
  }
  return evened(out);
}

/** Tokens `start` up to, and not including, `end`. */
export type Stretch = { readonly start: number; readonly end: number };

const SHORTEST_SENTENCE = 3;
const MOST_SENTENCES = 12;

/** The sentences of a reply that has more than one, to be read each by itself; those of one or two words are left. */
export function sentencesOf(board: Board): Stretch[] {
  const out: Stretch[] = [];
  const end = Math.min(board.tokens.length, MOST_TOKENS);
  let start = 0;
  for (let at = 1; at <= end; at += 1) {
    if (at < end && board.tokens[at]!.sentence === board.tokens[start]!.sentence) continue;
    if (at - start >= SHORTEST_SENTENCE && at - start < end && out.length < MOST_SENTENCES)
      out.push({ start, end: at });
    start = at;
  }
  return out;
}

type Keys = {
  readonly lemma: string;
  readonly word: string;
  readonly afterDenial: string;
  readonly asked: string;
  readonly scraps: readonly string[];
};

const remembered = new Map<string, Keys>();
const MOST_REMEMBERED = 20_000;

function keysOf(word: string): Keys {
  const known = remembered.get(word);
  if (known !== undefined) return known;
  const lemma = wordForms(word).at(-1)!;
  const keys = {
    lemma,
    word: `w${lemma}`,
    afterDenial: `n${lemma}`,
    asked: `q${lemma}`,
    scraps: scrapsOf(word),
  };
  if (remembered.size < MOST_REMEMBERED) remembered.set(word, keys);
  return keys;
}

function scrapsOf(word: string): string[] {
  if (word.length < SCRAP_LENGTH) return [];
  const marked = `<${word}>`;
  const out: string[] = [];
  for (let i = 0; i + SCRAP_LENGTH <= marked.length; i += 1)
    out.push(`c${marked.slice(i, i + SCRAP_LENGTH)}`);
  return out;
}

function addPairs(
  ideas: ReadonlyMap<number, number>,
  add: (key: number, amount: number, at: number) => void,
): void {
  if (ideas.size > MOST_IDEAS_IN_CLAUSE) return;
  const rows = [...ideas];
  for (let i = 0; i < rows.length; i += 1)
    for (let j = i + 1; j < rows.length; j += 1)
      add(pairKey(rows[i]![0], rows[j]![0]), IDEAS_TOGETHER, rows[i]![1]);
}

function evened(features: readonly Feature[]): Feature[] {
  let square = 0;
  for (const { amount } of features) square += amount * amount;
  const share = LENGTH / (Math.sqrt(square) || 1);
  return features.map((one) => ({ key: one.key, amount: one.amount * share, at: one.at }));
}

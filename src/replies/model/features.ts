import type { Board } from '../matcher.ts';
import { wordForms } from '../wordForms.ts';

/**
 * One thing that the second reader looks at, how much of it there is, and the token that it stands on. Words and
 * neighbours are named by text, ideas (classes of the lexicon) and pairs of ideas by number.
 */
export type Feature = { readonly key: string | number; readonly amount: number; readonly at: number };

const WORD = 1;
const NEIGHBOURS = 0.7;
const IDEA = 1;
const IDEAS_TOGETHER = 0.3;
const MOST_IDEAS_IN_CLAUSE = 24;
const MOST_TOKENS = 120;
/** The length to which the features of a reply are brought, so that long and short replies weigh the same. */
const LENGTH = 2;
const PAIR_STEP = 65_536;

export function pairKey(a: number, b: number): number {
  return (Math.min(a, b) + 1) * PAIR_STEP + Math.max(a, b);
}

/**
 * What the second reader sees of a reply: its words, its pairs of neighbouring words, the classes of the lexicon and
 * the pairs of classes that share a clause.
 */
export function featuresOf(board: Board, isClass: ReadonlySet<number>): Feature[] {
  const { tokens, starts, light, edge } = board;
  const found = new Map<string | number, Feature>();
  const add = (key: string | number, amount: number, at: number) => {
    if (!found.has(key)) found.set(key, { key, amount, at });
  };
  const end = Math.min(tokens.length, MOST_TOKENS);
  let before: string | undefined;
  let ideas = new Map<number, number>();
  for (let at = 0; at < end; at += 1) {
    const token = tokens[at]!;
    const lemma = lemmaOf(token.word);
    if (!light[at] && !edge[at]) add(lemma, WORD, at);
    if (before !== undefined && tokens[at - 1]?.sentence === token.sentence)
      add(`${before} ${lemma}`, NEIGHBOURS, at);
    before = lemma;
    if (tokens[at - 1]?.clause !== token.clause) {
      addPairs(ideas, add);
      ideas = new Map();
    }
    for (const one of starts[at]!) {
      if (!isClass.has(one.id)) continue;
      add(one.id, IDEA, at);
      if (!ideas.has(one.id)) ideas.set(one.id, at);
    }
  }
  addPairs(ideas, add);
  return evened([...found.values()]);
}

const lemmas = new Map<string, string>();
const MOST_REMEMBERED = 20_000;

function lemmaOf(word: string): string {
  const known = lemmas.get(word);
  if (known !== undefined) return known;
  const lemma = wordForms(word).at(-1)!;
  if (lemmas.size < MOST_REMEMBERED) lemmas.set(word, lemma);
  return lemma;
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
  const length = Math.sqrt(features.reduce((sum, one) => sum + one.amount * one.amount, 0)) || 1;
  return features.map((one) => ({ key: one.key, amount: (one.amount / length) * LENGTH, at: one.at }));
}

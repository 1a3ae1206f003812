import type { Board } from '../matcher.ts';
import { wordForms } from '../wordForms.ts';

/** One thing that the second reader looks at, how much of it there is, and the token that it stands on. */
export type Feature = { readonly name: string; readonly amount: number; readonly at: number };

const WORD = 1;
const NEIGHBOURS = 0.7;
const IDEA = 1;
const IDEAS_TOGETHER = 0.3;
const MOST_IDEAS_IN_CLAUSE = 24;
const MOST_TOKENS = 120;
/** The length to which the features of a reply are brought, so that long and short replies weigh the same. */
const LENGTH = 2;

/**
 * What the second reader sees of a reply: its words, its pairs of neighbouring words, the classes of the lexicon and
 * the pairs of classes that share a clause. `nameOf` gives the name of a class by its number.
 */
export function featuresOf(board: Board, nameOf: (id: number) => string | undefined): Feature[] {
  const { tokens, starts, light } = board;
  const found = new Map<string, Feature>();
  const add = (name: string, amount: number, at: number) => {
    if (!found.has(name)) found.set(name, { name, amount, at });
  };
  const end = Math.min(tokens.length, MOST_TOKENS);
  const ideas = new Map<number, Map<string, number>>();
  let before: string | undefined;
  for (let at = 0; at < end; at += 1) {
    const token = tokens[at]!;
    const lemma = wordForms(token.word).at(-1)!;
    if (!light[at]) add(`w:${lemma}`, WORD, at);
    if (before !== undefined && tokens[at - 1]?.sentence === token.sentence)
      add(`b:${before}_${lemma}`, NEIGHBOURS, at);
    before = lemma;
    for (const one of starts[at]!) {
      const name = nameOf(one.id);
      if (name === undefined) continue;
      add(`c:${name}`, IDEA, at);
      let here = ideas.get(token.clause);
      if (here === undefined) {
        here = new Map();
        ideas.set(token.clause, here);
      }
      if (!here.has(name)) here.set(name, at);
    }
  }
  for (const here of ideas.values()) {
    const names = [...here.keys()].sort();
    if (names.length > MOST_IDEAS_IN_CLAUSE) continue;
    for (let i = 0; i < names.length; i += 1)
      for (let j = i + 1; j < names.length; j += 1)
        add(`p:${names[i]!}${names[j]!}`, IDEAS_TOGETHER, here.get(names[i]!)!);
  }
  return evened([...found.values()]);
}

function evened(features: readonly Feature[]): Feature[] {
  const length = Math.sqrt(features.reduce((sum, one) => sum + one.amount * one.amount, 0)) || 1;
  return features.map((one) => ({ ...one, amount: (one.amount / length) * LENGTH }));
}

import type { Lexicon } from './lexicon/lexicon.ts';
import { type Board, type Found, type Match, PatternIndex, placesOf } from './matcher.ts';
import type { Token } from './normalise.ts';
import { exactly, readPattern, Vocabulary } from './pattern.ts';
import { nearestWord } from './spelling.ts';
import { masculineForms, sameWord, wordForms } from './wordForms.ts';

/** The classes of a lexicon, ready to be laid over a reply. */
export type Classifier = {
  readonly vocabulary: Vocabulary;
  readonly layers: readonly PatternIndex<number>[];
  readonly light: ReadonlySet<string>;
  readonly polite: ReadonlySet<string>;
  readonly distanceClasses: ReadonlySet<number>;
};

const MOST_REMEMBERED_WORDS = 20_000;

export function makeClassifier(lexicon: Lexicon): Classifier {
  const vocabulary = new Vocabulary();
  const layers = lexicon.layers.map((layer) => {
    const index = new PatternIndex<number>();
    for (const [name, rows] of Object.entries(layer)) {
      const id = vocabulary.idOf(`{${name}}`);
      for (const row of rows) for (const pattern of readPattern(row, vocabulary)) index.add(pattern, id);
    }
    return index;
  });
  return {
    vocabulary,
    layers,
    light: new Set(lexicon.lightWords),
    polite: new Set(lexicon.politeWords),
    distanceClasses: new Set(['{far}', '{arm}', '{near}'].map((name) => vocabulary.idOf(name))),
  };
}

const remembered = new WeakMap<Vocabulary, Map<string, readonly number[]>>();

/** The numbers of the forms of a word that the lexicon knows; a misspelt word gets those of the word meant. */
function knownForms(word: string, vocabulary: Vocabulary): readonly number[] {
  let memory = remembered.get(vocabulary);
  if (memory === undefined) {
    memory = new Map();
    remembered.set(vocabulary, memory);
  }
  const known = memory.get(word);
  if (known !== undefined) return known;
  const ids = idsOf(word, vocabulary);
  if (memory.size < MOST_REMEMBERED_WORDS) memory.set(word, ids);
  return ids;
}

function idsOf(word: string, vocabulary: Vocabulary): readonly number[] {
  const ids = new Set<number>();
  for (const form of [...wordForms(word), ...masculineForms(word)]) {
    const id = vocabulary.ids.get(form);
    if (id !== undefined) ids.add(id);
  }
  for (const form of sameWord(word)) {
    const id = vocabulary.ids.get(exactly(form));
    if (id !== undefined) ids.add(id);
  }
  if (ids.size > 0) return [...ids];
  const meant = nearestWord(word);
  if (meant === undefined) return [];
  for (const form of [...wordForms(meant), exactly(meant)]) {
    const id = vocabulary.ids.get(form);
    if (id !== undefined) ids.add(id);
  }
  return [...ids];
}

export function layBoard(tokens: readonly Token[], classifier: Classifier): Board {
  const starts: Found[][] = tokens.map((token, at) =>
    knownForms(token.word, classifier.vocabulary).map((id) => ({ id, start: at, end: at })),
  );
  const light = tokens.map((token) => classifier.light.has(token.word));
  const edge = tokens.map((token) => classifier.polite.has(token.word));
  const board: Board = {
    tokens,
    starts,
    places: placesOf(starts),
    light,
    edge,
    firstWeighty: Math.max(edge.indexOf(false), 0),
    lastWeighty: edge.lastIndexOf(false) < 0 ? tokens.length - 1 : edge.lastIndexOf(false),
  };
  for (const layer of classifier.layers) {
    const found = layer.matches(board);
    addClasses(board, keepLongest(found, classifier));
    board.places = placesOf(starts);
  }
  return board;
}

function addClasses(board: Board, found: readonly Match<number>[]): void {
  const seen = new Set<number>();
  const width = board.tokens.length + 1;
  for (const match of found) {
    const key = (match.of * width + match.start) * width + match.end;
    if (seen.has(key)) continue;
    seen.add(key);
    board.starts[match.start]?.push({ id: match.of, start: match.start, end: match.end });
  }
  for (const row of board.starts) row.sort((a, b) => b.end - a.end);
}

/** A longer name of a thing takes the place of a shorter one inside it: a "telly screen" is no arm's-length screen. */
function keepLongest(found: readonly Match<number>[], classifier: Classifier): readonly Match<number>[] {
  const longest = new Map<number, number>();
  const isDistance = (match: Match<number>) => classifier.distanceClasses.has(match.of);
  for (const match of found) {
    if (!isDistance(match)) continue;
    for (const at of match.used) longest.set(at, Math.max(longest.get(at) ?? 0, match.used.length));
  }
  return found.filter(
    (match) => !isDistance(match) || match.used.some((at) => longest.get(at) === match.used.length),
  );
}

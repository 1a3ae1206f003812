import { layBoard, makeClassifier } from './board.ts';
import type { LabelPhrases } from './lexicon/labelPhrases.ts';
import type { ExtentPhrases, Lexicon } from './lexicon/lexicon.ts';
import { type Board, type Match, PatternIndex } from './matcher.ts';
import { makeSecondReader, type Opinion } from './model/secondReader.ts';
import type { Token } from './normalise.ts';
import { readPattern } from './pattern.ts';
import { type Doubt, scopeReader } from './scope.ts';
import type { Ask, Label } from './types.ts';
import { wordForms } from './wordForms.ts';

/** One phrase found in a reply, with what stands in its way. */
export type Reason = {
  readonly label: Label;
  readonly phrase: string;
  readonly start: number;
  readonly end: number;
  readonly used: readonly number[];
  readonly doubts: ReadonlySet<Doubt>;
  readonly holds: boolean;
  /** Found by a phrase that counts only where something is asked. */
  readonly asking?: boolean;
};

export type AskFound = { readonly ask: Ask; readonly start: number; readonly end: number };
export type ExtentKind = keyof ExtentPhrases;

export type Evidence = {
  readonly board: Board;
  readonly reasons: readonly Reason[];
  /** Labels of which a phrase stands there in another sense ("fell asleep"). */
  readonly takenAway: ReadonlySet<Label>;
  /** What the second reader makes of the words; none in a language that it was not trained for. */
  readonly opinion: Opinion | undefined;
  readonly asks: readonly AskFound[];
  /** Whether each word stands in a sentence that asks something. */
  readonly asking: readonly boolean[];
  readonly maybeStop: boolean;
  /** Words of suddenness, and none that the doubling began with the glasses. */
  readonly suddenDoubling: boolean;
  /** A death or grave illness in the house was told. */
  readonly bereaved: boolean;
  /** Words of weight, by token. */
  readonly weighty: readonly number[];
  readonly extent: readonly { readonly kind: ExtentKind; readonly start: number; readonly end: number }[];
  /** Things looked at, by class name `far`, `arm`, `near`. */
  readonly things: readonly {
    readonly distance: 'far' | 'arm' | 'near';
    readonly start: number;
    readonly end: number;
  }[];
};

type Say = { readonly rules: LabelPhrases; readonly phrase: string; readonly asking: boolean };

/** Makes the reader that finds every label's phrases in the words of a reply. */
export function makeSorter(lexicon: Lexicon): (tokens: readonly Token[]) => Evidence {
  const classifier = makeClassifier(lexicon);
  const says = new PatternIndex<Say>();
  const masks = new PatternIndex<Label>('word for word');
  const vetoes = new PatternIndex<Label>();
  for (const rules of lexicon.labels) {
    const { label } = rules;
    for (const phrase of rules.say)
      for (const pattern of readPattern(phrase, classifier.vocabulary))
        says.add(pattern, { rules, phrase, asking: false });
    for (const phrase of rules.sayAsking ?? [])
      for (const pattern of readPattern(phrase, classifier.vocabulary))
        says.add(pattern, { rules, phrase, asking: true });
    for (const phrase of rules.not ?? [])
      for (const pattern of readPattern(phrase, classifier.vocabulary)) masks.add(pattern, label);
    for (const phrase of rules.notWith ?? [])
      for (const pattern of readPattern(phrase, classifier.vocabulary)) vetoes.add(pattern, label);
  }
  const readScope = scopeReader(lexicon, classifier);
  const index = <T>(rows: readonly string[], of: T, into = new PatternIndex<T>()): PatternIndex<T> => {
    for (const row of rows)
      for (const pattern of readPattern(row, classifier.vocabulary)) into.add(pattern, of);
    return into;
  };
  const asks = new PatternIndex<Ask>();
  for (const { ask, say } of lexicon.asks) index(say, ask, asks);
  const askingWords = index(lexicon.askingWords, true);
  const maybeStops = index(lexicon.maybeStop, true);
  const bereavement = new Set(lexicon.bereavement);
  const weightyWords = new Set(lexicon.weightyWords);
  const extents = new PatternIndex<ExtentKind>();
  for (const [kind, rows] of Object.entries(lexicon.extent)) index(rows, kind as ExtentKind, extents);
  const secondReader = lexicon.hasSecondReader ? makeSecondReader(classifier.vocabulary) : () => undefined;
  const wornByThem = classifier.vocabulary.idOf('{wornByThem}');
  const suddenly = classifier.vocabulary.idOf('{suddenly}');
  const fromFitting = classifier.vocabulary.idOf('{fromFitting}');
  const distances = new Map(
    (['far', 'arm', 'near'] as const).map((name) => [classifier.vocabulary.idOf(`{${name}}`), name] as const),
  );

  return (tokens) => {
    const board = layBoard(tokens, classifier);
    const found = says.matches(board);
    const masked = filedByLabel(masks.matches(board));
    const vetoed = filedByLabel(vetoes.matches(board));
    const scope = readScope(board);
    const reasons: Reason[] = [];
    const takenAway = new Set<Label>();
    const asking = tokens.map((token) => token.asked);
    const opened = new Set(askingWords.matches(board).map((match) => tokens[match.start]?.clause));
    tokens.forEach((token, at) => {
      if (opened.has(token.clause)) asking[at] = true;
    });
    for (const match of found) {
      const { rules, phrase } = match.of;
      if (match.of.asking && asking[match.start] !== true) continue;
      if (
        masked.get(rules.label)?.some((mask) => takesAway(mask, match)) ||
        vetoed.get(rules.label)?.some((veto) => sameSentence(board, veto, match))
      ) {
        takenAway.add(rules.label);
        continue;
      }
      const doubts = scope.doubtsOf(match);
      const holds =
        [...doubts].every((doubt) => !counts(doubt, rules)) &&
        !(rules.label === 'fall-or-injury' && doubts.has('other') && !board.places.has(wornByThem));
      reasons.push({
        label: rules.label,
        phrase,
        start: match.start,
        end: match.end,
        used: match.used,
        doubts,
        holds,
        asking: match.of.asking,
      });
    }
    return {
      board,
      reasons,
      takenAway,
      opinion: secondReader(board, asking),
      asks: asks
        .matches(board)
        .filter((match) => asking[match.start] === true)
        .map((match) => ({ ask: match.of, start: match.start, end: match.end })),
      asking,
      maybeStop: maybeStops
        .matches(board)
        .some((match) => !masked.get('stop')?.some((mask) => takesAway(mask, match))),
      suddenDoubling: board.places.has(suddenly) && !board.places.has(fromFitting),
      bereaved: reasons.some((reason) => reason.holds && bereavement.has(reason.phrase)),
      weighty: tokens.flatMap((token, at) =>
        wordForms(token.word).some((form) => weightyWords.has(form)) ? [at] : [],
      ),
      extent: extents.matches(board).map((match) => ({ kind: match.of, start: match.start, end: match.end })),
      things: board.starts.flat().flatMap((one) => {
        const distance = distances.get(one.id);
        return distance === undefined ? [] : [{ distance, start: one.start, end: one.end }];
      }),
    };
  };
}

const ASKED_MATTERS: ReadonlySet<Label> = new Set(['settled', 'getting-there', 'not-wearing']);

function counts(doubt: Doubt, rules: LabelPhrases): boolean {
  if (rules.even?.includes(doubt)) return false;
  return doubt !== 'asked' || ASKED_MATTERS.has(rules.label);
}

function filedByLabel(matches: readonly Match<Label>[]): ReadonlyMap<Label, Match<Label>[]> {
  const map = new Map<Label, Match<Label>[]>();
  for (const match of matches) {
    const row = map.get(match.of);
    if (row === undefined) map.set(match.of, [match]);
    else row.push(match);
  }
  return map;
}

/** A mask takes a match away when it shares a word with it and is not merely a part of what the match says. */
function takesAway(mask: Match<unknown>, match: Match<unknown>): boolean {
  if (mask.end < match.start || mask.start > match.end) return false;
  let shared = 0;
  for (const at of mask.used) if (match.used.includes(at)) shared += 1;
  if (shared === 0) return false;
  return shared < mask.used.length || mask.used.length === match.used.length;
}

function sameSentence(board: Board, a: Match<unknown>, b: Match<unknown>): boolean {
  const { tokens } = board;
  return (
    tokens[a.start]?.sentence === tokens[b.start]?.sentence ||
    tokens[a.end]?.sentence === tokens[b.end]?.sentence
  );
}

import type { Classifier } from './board.ts';
import type { Lexicon } from './lexicon/lexicon.ts';
import { type Board, type Match, PatternIndex } from './matcher.ts';
import { readPattern } from './pattern.ts';

/** Why a phrase that stands in a reply does not say that the thing is so now. */
export type Doubt = 'denied' | 'over' | 'other' | 'supposed' | 'asked';

/** What in a reply bears on the phrases beside it: denials, times, people, suppositions. */
export type Scope = {
  doubtsOf(match: Match<unknown>): ReadonlySet<Doubt>;
};

export type ScopeReader = (board: Board) => Scope;

const DENIAL_REACH = 5;

/** Builds the reader of scope for a lexicon that has been laid into `classifier`. */
export function scopeReader(lexicon: Lexicon, classifier: Classifier): ScopeReader {
  const { vocabulary } = classifier;
  const notDenials = new PatternIndex<true>();
  for (const row of lexicon.notDenials)
    for (const pattern of readPattern(row, vocabulary)) notDenials.add(pattern, true);
  const denials = new Set(lexicon.denials);
  const id = (name: string) => vocabulary.idOf(name);
  const ended = id('{ended}');
  const before = id('{before}');
  const mended = id('{mended}');
  const past = id('{past}');
  const present = id('{present}');
  const supposing = id('{hypothetical}');
  const person = id('{otherPerson}');
  const theirs = id('{theirs}');
  const speaksFor = id('{speaksFor}');
  const notMe = id('{notMe}');
  const tells = id('{tells}');

  return (board) => {
    const { tokens, starts } = board;
    const denying = tokens.map((token) => denials.has(token.word));
    for (const match of notDenials.matches(board)) for (const at of match.used) denying[at] = false;
    const has = (at: number, wanted: number) => starts[at]?.some((found) => found.id === wanted) === true;
    const anywhere = (wanted: number) => starts.some((row) => row.some((found) => found.id === wanted));
    const onBehalf = anywhere(speaksFor);
    const elsewhere = anywhere(notMe);

    return {
      doubtsOf(match) {
        const doubts = new Set<Doubt>();
        const used = new Set(match.used);
        const first = tokens[match.start]!;
        let clauseStart = match.start;
        while (clauseStart > 0 && tokens[clauseStart - 1]?.clause === first.clause) clauseStart -= 1;
        let clauseEnd = match.end;
        const last = tokens[match.end]!;
        while (clauseEnd + 1 < tokens.length && tokens[clauseEnd + 1]?.clause === last.clause) clauseEnd += 1;
        let sentenceStart = clauseStart;
        while (sentenceStart > 0 && tokens[sentenceStart - 1]?.sentence === first.sentence)
          sentenceStart -= 1;

        const opensAnew = lexicon.denialEnds.includes(first.word);
        const reach = opensAnew ? match.start : Math.max(clauseStart, match.start - DENIAL_REACH);
        for (let at = match.end; at >= reach; at -= 1) {
          if (at < match.start && lexicon.denialEnds.includes(tokens[at]?.word ?? '')) break;
          if (denying[at] && !used.has(at)) doubts.add('denied');
        }
        if (answeredNo(board, match, clauseStart, clauseEnd, denying)) doubts.add('denied');

        const stillSo = holdsIn(starts, clauseStart, clauseEnd, present);
        for (let at = sentenceStart; at <= clauseEnd; at += 1)
          if (has(at, before) && !used.has(at) && !stillSo) doubts.add('over');
        if (
          !stillSo &&
          holdsIn(starts, clauseStart, clauseEnd, past) &&
          mendedAfter(starts, clauseStart, mended)
        )
          doubts.add('over');
        for (let at = clauseStart; at <= clauseEnd; at += 1) {
          if (
            has(at, ended) &&
            !goesOn(tokens, at) &&
            !untilThen(tokens, clauseStart, at) &&
            !used.has(at) &&
            !denying[at - 1] &&
            !deniedBefore(denying, clauseStart, at)
          )
            doubts.add('over');
          if (has(at, theirs) && !used.has(at) && !onBehalf) doubts.add('other');
        }
        for (let at = sentenceStart; at < match.start; at += 1)
          if (has(at, supposing) && !used.has(at)) doubts.add('supposed');
        if (!onBehalf) {
          for (let at = clauseStart; at < Math.min(clauseStart + 3, match.start + 1); at += 1)
            if (has(at, person) && !used.has(at) && !tellsAfter(board, at, tells)) doubts.add('other');
          if (elsewhere && sentenceHas(board, first.sentence, sentenceStart, person)) doubts.add('other');
        }
        if (last.asked) doubts.add('asked');
        return doubts;
      },
    };
  };
}

const WENT = new Set(['gone', 'went', 'go', 'goes']);
const AFTER_WENT = new Set([
  'since',
  'after',
  'away',
  'by',
  'off',
  'now',
  'completely',
  'altogether',
  'when',
  'once',
  'overnight',
  'and',
]);

/** "Gone fuzzy", "went soft": gone into something, not over. */
function goesOn(tokens: Board['tokens'], at: number): boolean {
  let last = at;
  while (!WENT.has(tokens[last]?.word ?? '') && last < at + 2) last += 1;
  if (!WENT.has(tokens[last]?.word ?? '')) return false;
  const next = tokens[last + 1];
  return next !== undefined && next.clause === tokens[at]?.clause && !AFTER_WENT.has(next.word);
}

/** "Until we've stopped", "till it has gone": a time that is waited for. */
function untilThen(tokens: Board['tokens'], from: number, at: number): boolean {
  for (let i = Math.max(from, at - 4); i < at; i += 1)
    if (tokens[i]!.word === 'until' || tokens[i]!.word === 'till') return true;
  return false;
}

const MENDED_REACH = 40;

function holdsIn(starts: Board['starts'], from: number, to: number, wanted: number): boolean {
  for (let at = from; at <= to; at += 1) if (starts[at]?.some((found) => found.id === wanted)) return true;
  return false;
}

function mendedAfter(starts: Board['starts'], from: number, mended: number): boolean {
  return holdsIn(starts, from, Math.min(from + MENDED_REACH, starts.length - 1), mended);
}

function deniedBefore(denying: readonly boolean[], from: number, at: number): boolean {
  for (let i = Math.max(from, at - 3); i < at; i += 1) if (denying[i]) return true;
  return false;
}

/** "Any dizziness? None.": asked and denied by the next word. */
function answeredNo(
  board: Board,
  match: Match<unknown>,
  clauseStart: number,
  clauseEnd: number,
  denying: readonly boolean[],
): boolean {
  const opening = board.tokens[clauseStart]?.word;
  if (
    opening !== 'any' &&
    board.tokens[clauseStart - 1]?.word !== 'any' &&
    board.tokens[clauseStart + 2]?.word !== 'any'
  )
    return false;
  if (match.start < clauseStart) return false;
  return denying[clauseEnd + 1] === true;
}

function tellsAfter(board: Board, at: number, tells: number): boolean {
  for (let i = at; i < Math.min(at + 5, board.tokens.length); i += 1)
    if (board.starts[i]?.some((found) => found.id === tells)) return true;
  return false;
}

function sentenceHas(board: Board, sentence: number, from: number, wanted: number): boolean {
  for (let i = from; i < board.tokens.length && board.tokens[i]?.sentence === sentence; i += 1)
    if (board.starts[i]?.some((found) => found.id === wanted)) return true;
  return false;
}

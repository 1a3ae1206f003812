import type { Token } from './normalise.ts';
import type { Company, Pattern } from './pattern.ts';

/** A word or class found at tokens `start` to `end` (both included). */
export type Found = { readonly id: number; readonly start: number; readonly end: number };

/** The tokens of a reply, and at each of them the words and classes that begin there. */
export type Board = {
  readonly tokens: readonly Token[];
  readonly starts: Found[][];
  readonly light: readonly boolean[];
  /** Words that may stand before the first word of a clause, or round a whole reply. */
  readonly edge: readonly boolean[];
  /** First and last word that is not mere politeness. */
  readonly firstWeighty: number;
  readonly lastWeighty: number;
};

/** `used` are the tokens that words of the phrase stand on; the others between them were passed over. */
export type Match<T> = { readonly of: T; readonly start: number; readonly end: number; readonly used: readonly number[] };

type Entry<T> = {
  readonly pattern: Pattern;
  readonly of: T;
  /** The later words of the phrase: when one is nowhere on the board the phrase is not tried. */
  readonly later: readonly (readonly number[])[];
};

/** Phrases filed by the word or class that they begin with. */
export class PatternIndex<T> {
  private readonly byFirst = new Map<number, Entry<T>[]>();
  private readonly skipsLight: boolean;
  size = 0;

  /** Read `word for word`, no light word may stand between the words of a phrase, save where it has a gap. */
  constructor(reading: 'skips light words' | 'word for word' = 'skips light words') {
    this.skipsLight = reading === 'skips light words';
  }

  add(pattern: Pattern, of: T): void {
    this.size += 1;
    const later = pattern.elements
      .slice(1)
      .map((element) => [...element.ids])
      .sort((a, b) => a.length - b.length);
    for (const id of pattern.elements[0]?.ids ?? []) fileUnder(this.byFirst, id, { pattern, of, later });
  }

  /** Every match on the board. The work per token is bounded by the lexicon, not by the length of the reply. */
  matches(board: Board): Match<T>[] {
    const out: Match<T>[] = [];
    const present = presence(board);
    const onBoard = idsOnBoard(board);
    for (const here of board.starts) {
      for (let i = 0; i < here.length; i += 1) {
        const found = here[i]!;
        const entries = this.byFirst.get(found.id);
        if (entries === undefined) continue;
        for (const entry of entries) {
          if (!mayStand(entry.later, onBoard)) continue;
          const match = runFrom(board, entry, found, this.skipsLight);
          if (match === undefined) continue;
          const { company } = entry.pattern;
          if (company === undefined) out.push(match);
          else {
            const parts = companions(board, present, company, match);
            if (parts !== undefined) out.push(parts);
          }
        }
      }
    }
    return out;
  }
}

function idsOnBoard(board: Board): ReadonlySet<number> {
  const ids = new Set<number>();
  for (const row of board.starts) for (const found of row) ids.add(found.id);
  return ids;
}

function mayStand(later: readonly (readonly number[])[], onBoard: ReadonlySet<number>): boolean {
  for (const ids of later) {
    let stands = false;
    for (const id of ids) {
      if (onBoard.has(id)) {
        stands = true;
        break;
      }
    }
    if (!stands) return false;
  }
  return true;
}

type Presence = (within: 'clause' | 'sentence', part: number) => ReadonlyMap<number, Found>;

/** What stands in each clause and sentence, gathered when it is first asked for. */
function presence(board: Board): Presence {
  const gathered = { clause: new Map<number, Map<number, Found>>(), sentence: new Map<number, Map<number, Found>>() };
  const done = { clause: false, sentence: false };
  const none = new Map<number, Found>();
  return (within, part) => {
    if (!done[within]) {
      done[within] = true;
      for (let at = 0; at < board.tokens.length; at += 1) {
        const key = board.tokens[at]![within];
        let row = gathered[within].get(key);
        if (row === undefined) {
          row = new Map();
          gathered[within].set(key, row);
        }
        for (const found of board.starts[at]!) if (!row.has(found.id)) row.set(found.id, found);
      }
    }
    return gathered[within].get(part) ?? none;
  };
}

function companions<T>(board: Board, present: Presence, company: Company, match: Match<T>): Match<T> | undefined {
  const here = present(company.within, board.tokens[match.start]![company.within]);
  for (const ids of company.without) if (anyOf(here, ids) !== undefined) return undefined;
  if (company.need.length === 0) return match;
  const used = [...match.used];
  for (const ids of company.need) {
    const found = anyOf(here, ids);
    if (found === undefined) return undefined;
    for (let i = found.start; i <= found.end; i += 1) used.push(i);
  }
  used.sort((a, b) => a - b);
  return { of: match.of, start: used[0]!, end: used.at(-1)!, used };
}

function fileUnder<E>(map: Map<number, E[]>, id: number, entry: E): void {
  const row = map.get(id);
  if (row === undefined) map.set(id, [entry]);
  else row.push(entry);
}

function anyOf(present: ReadonlyMap<number, Found>, ids: ReadonlySet<number>): Found | undefined {
  for (const id of ids) {
    const found = present.get(id);
    if (found !== undefined) return found;
  }
  return undefined;
}

function runFrom<T>(board: Board, entry: Entry<T>, first: Found, skipsLight: boolean): Match<T> | undefined {
  const { pattern, of } = entry;
  const { tokens } = board;
  if (pattern.opensClause && !opens(board, first.start)) return undefined;
  if (pattern.wholeReply && first.start > board.firstWeighty) return undefined;
  const used: number[] = [];
  for (let i = first.start; i <= first.end; i += 1) used.push(i);
  const end = step(board, pattern, 1, first.end, used, skipsLight);
  if (end < 0) return undefined;
  if (tokens[end] === undefined) return undefined;
  return { of, start: first.start, end, used };
}

/** Tries to place element `index` after token `last`; gives the last token of the whole match, or -1. */
function step(board: Board, pattern: Pattern, index: number, last: number, used: number[], skipsLight: boolean): number {
  const element = pattern.elements[index];
  const { tokens, starts, light } = board;
  if (element === undefined) {
    if (pattern.closesClause && !closes(board, last)) return -1;
    if (pattern.wholeReply && last < board.lastWeighty) return -1;
    return last;
  }
  const from = tokens[last]!;
  let weighty = 0;
  for (let at = last + 1; at < tokens.length; at += 1) {
    const token = tokens[at]!;
    if (element.crosses ? token.section !== from.section : token.clause !== from.clause) return -1;
    for (const found of starts[at]!) {
      if (!element.ids.has(found.id)) continue;
      const mark = used.length;
      for (let i = found.start; i <= found.end; i += 1) used.push(i);
      const end = step(board, pattern, index + 1, found.end, used, skipsLight);
      if (end >= 0) return end;
      used.length = mark;
    }
    if (!light[at] || (element.gap === 0 && !skipsLight)) weighty += 1;
    if (weighty > element.gap) return -1;
    if (at - last > element.gap + 4) return -1;
  }
  return -1;
}

function opens(board: Board, at: number): boolean {
  const clause = board.tokens[at]?.clause;
  for (let i = at - 1; i >= 0 && board.tokens[i]?.clause === clause; i -= 1) if (!board.edge[i]) return false;
  return true;
}

function closes(board: Board, at: number): boolean {
  const clause = board.tokens[at]?.clause;
  for (let i = at + 1; i < board.tokens.length && board.tokens[i]?.clause === clause; i += 1)
    if (!board.light[i] && !board.edge[i]) return false;
  return true;
}

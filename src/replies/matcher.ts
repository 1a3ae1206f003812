import type { Token } from './normalise.ts';
import type { Company, Pattern } from './pattern.ts';

/** A word or class found at tokens `start` to `end` (both included). */
export type Found = { readonly id: number; readonly start: number; readonly end: number };

/** The tokens of a reply, and at each of them the words and classes that begin there. */
export type Board = {
  readonly tokens: readonly Token[];
  readonly starts: Found[][];
  /** The same, by word or class. */
  places: ReadonlyMap<number, readonly Found[]>;
  readonly light: readonly boolean[];
  /** Words that may stand before the first word of a clause, or round a whole reply. */
  readonly edge: readonly boolean[];
  /** First and last word that is not mere politeness. */
  readonly firstWeighty: number;
  readonly lastWeighty: number;
};

/** `used` are the tokens that words of the phrase stand on; the others between them were passed over. */
export type Match<T> = {
  readonly of: T;
  readonly start: number;
  readonly end: number;
  readonly used: readonly number[];
};

type Entry<T> = { readonly pattern: Pattern; readonly of: T };

/** Phrases filed by the rarest of their words, so that few are tried on any one reply. */
export class PatternIndex<T> {
  private readonly entries: Entry<T>[] = [];
  private filed: Filed | undefined;
  private readonly skipsLight: boolean;
  private tried = new Uint32Array(0);
  private turn = 0;

  /** Read `word for word`, no light word may stand between the words of a phrase, save where it has a gap. */
  constructor(reading: 'skips light words' | 'word for word' = 'skips light words') {
    this.skipsLight = reading === 'skips light words';
  }

  add(pattern: Pattern, of: T): void {
    this.entries.push({ pattern, of });
    this.filed = undefined;
  }

  /** Every match on the board. The work per token is bounded by the lexicon, not by the length of the reply. */
  matches(board: Board): Match<T>[] {
    this.filed ??= fileByRarest(this.entries);
    if (this.tried.length !== this.entries.length) this.tried = new Uint32Array(this.entries.length);
    this.turn += 1;
    const { tried, turn, entries } = this;
    const { rows, starts } = this.filed;
    const out: Match<T>[] = [];
    const present = presence(board);
    mark(board.places, 1);
    for (const id of board.places.keys()) {
      const start = id < starts.length ? starts[id]! : 0;
      if (start === 0) continue;
      const end = start + rows[start]!;
      for (let at = start + 1; at < end; at += rows[at + 1]!) {
        if (!allStand(rows, at + 2, at + rows[at + 1]!)) continue;
        const number = rows[at]!;
        if (tried[number] === turn) continue;
        tried[number] = turn;
        this.tryEverywhere(board, entries[number]!, present, out);
      }
    }
    mark(board.places, 0);
    return out;
  }

  private tryEverywhere(board: Board, entry: Entry<T>, present: Presence, out: Match<T>[]): void {
    const { elements, company } = entry.pattern;
    for (const id of elements[0]!.ids) {
      for (const found of board.places.get(id) ?? []) {
        const match = runFrom(board, entry, found, this.skipsLight);
        if (match === undefined) continue;
        const whole = company === undefined ? match : companions(board, present, company, match);
        if (whole !== undefined) out.push(whole);
      }
    }
  }
}

/** Where each word and class stands on a board. */
export function placesOf(starts: readonly (readonly Found[])[]): Map<number, Found[]> {
  const places = new Map<number, Found[]>();
  for (const row of starts) {
    for (const found of row) {
      const here = places.get(found.id);
      if (here === undefined) places.set(found.id, [found]);
      else here.push(found);
    }
  }
  return places;
}

/**
 * All phrases in one row of numbers, which is read from front to back. Under each word or class, at `starts`: how long
 * its part is, then of each phrase its number, how long its own part is, and what else must stand there, the rarest
 * first: of each element how many words or classes would do, and these.
 */
type Filed = { readonly rows: Int32Array; readonly starts: Int32Array };

function fileByRarest<T>(entries: readonly Entry<T>[]): Filed {
  const uses = new Map<number, number>();
  for (const { pattern } of entries)
    for (const { ids } of pattern.elements) for (const id of ids) uses.set(id, (uses.get(id) ?? 0) + 1);
  const usesOf = (ids: ReadonlySet<number>) => [...ids].reduce((sum, id) => sum + (uses.get(id) ?? 0), 0);
  const parts = new Map<number, number[]>();
  entries.forEach(({ pattern }, number) => {
    const elements = pattern.elements.map(({ ids }) => ids);
    let rarest = elements[0]!;
    for (const ids of elements) if (usesOf(ids) < usesOf(rarest)) rarest = ids;
    const needs = [...elements, ...(pattern.company?.need ?? [])]
      .filter((ids) => ids !== rarest)
      .sort((a, b) => usesOf(a) - usesOf(b))
      .flatMap((ids) => [ids.size, ...ids]);
    for (const id of rarest) {
      const part = parts.get(id) ?? [];
      parts.set(id, part);
      part.push(number, needs.length + 2);
      for (const need of needs) part.push(need);
    }
  });
  const starts = new Int32Array(Math.max(-1, ...parts.keys()) + 1);
  const rows: number[] = [0];
  for (const [id, part] of parts) {
    starts[id] = rows.length;
    rows.push(part.length + 1);
    for (const one of part) rows.push(one);
  }
  return { rows: Int32Array.from(rows), starts };
}

/** Which words and classes stand on the board that is being read; all 0 between readings. */
let stands = new Uint8Array(65_536);

function mark(places: ReadonlyMap<number, unknown>, as: 0 | 1): void {
  for (const id of places.keys()) {
    if (id >= stands.length) {
      const wider = new Uint8Array(id * 2);
      wider.set(stands);
      stands = wider;
    }
    stands[id] = as;
  }
}

/** Whether of each element from `at` to `end` one word or class stands on the board. */
function allStand(rows: Int32Array, from: number, end: number): boolean {
  let at = from;
  while (at < end) {
    const next = at + 1 + rows[at]!;
    at += 1;
    while (at < next && stands[rows[at]!] === 0) at += 1;
    if (at === next) return false;
    at = next;
  }
  return true;
}

type Presence = (within: 'clause' | 'sentence', part: number) => ReadonlyMap<number, Found>;

/** What stands in each clause and sentence, gathered when it is first asked for. */
function presence(board: Board): Presence {
  const gathered = {
    clause: new Map<number, Map<number, Found>>(),
    sentence: new Map<number, Map<number, Found>>(),
  };
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

function companions<T>(
  board: Board,
  present: Presence,
  company: Company,
  match: Match<T>,
): Match<T> | undefined {
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
function step(
  board: Board,
  pattern: Pattern,
  index: number,
  last: number,
  used: number[],
  skipsLight: boolean,
): number {
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

import {
  type FinishedPair,
  type Grouping,
  groupOf,
  LOOK_DAYS,
  type LookState,
  type PairOutcome,
  REASONS,
  type ReasonsCounted,
  SETTLING_REASONS,
  WAYS_BACK,
} from './pairs.ts';

/**
 * The pairs of a shop in columns: a page asks dozens of questions of the same pairs, a big shop has a hundred thousand of
 * them, and most questions are answered by counting codes. A whole pair is made only where one is looked at by itself.
 */
export type PairColumns = {
  readonly count: number;
  readonly handedOverDay: Int32Array;
  /** Day 0 of what the wearer feels; the hand-over when it is not known. */
  readonly firstWornDay: Int32Array;
  /** `NO_END` where no end is known. */
  readonly endedDay: Int32Array;
  /** Index into `OUTCOMES`, or −1 while the pair is followed. */
  readonly outcome: Int8Array;
  /** Index into `REASONS`, or −1 where none is recorded. */
  readonly reason: Int8Array;
  /** Index into `LOOK_STATES` for each look, two bits a look, day 7 lowest. */
  readonly looks: Uint8Array;
  /** The groups by name, in the order in which they first appear, and the group of every pair. */
  readonly groups: (by: Grouping) => Grouped;
  /** Positions in the order of hand-over, then of pair id. */
  readonly inOrder: () => Int32Array;
  /** Positions of pairs that came back or have more on record than their looks: acts, causes, claims, measured again. */
  readonly noted: Int32Array;
  readonly pairId: (at: number) => string;
  readonly pair: (at: number) => FinishedPair;
};

export type Grouped = { readonly names: readonly string[]; readonly codes: Int32Array };

export const OUTCOMES: readonly PairOutcome[] = [
  'settled',
  'settled after adjusting',
  'remade in the same design',
  'exchanged',
  'refunded',
  'kept, not happy',
  'stopped wearing',
  'lost touch',
];
export const LOOK_STATES: readonly LookState[] = ['not due', 'silent', 'not yet', 'settled'];
export const NO_END = 2 ** 31 - 1;

/** What the review is handed: pairs one by one, or already in columns. */
export type PairsGiven = readonly FinishedPair[] | PairColumns;

/** Pairs in columns; what is in columns already is handed back. */
export function inColumns(given: PairsGiven): PairColumns {
  if (!isList(given)) return given;
  const count = given.length;
  const handedOverDay = new Int32Array(count);
  const firstWornDay = new Int32Array(count);
  const endedDay = new Int32Array(count);
  const outcome = new Int8Array(count);
  const reason = new Int8Array(count);
  const looks = new Uint8Array(count);
  const noted: number[] = [];
  given.forEach((pair, at) => {
    handedOverDay[at] = pair.handedOverDay;
    firstWornDay[at] = pair.firstWornDay ?? pair.handedOverDay;
    endedDay[at] = pair.endedDay ?? NO_END;
    outcome[at] = pair.outcome === null ? -1 : OUTCOMES.indexOf(pair.outcome);
    reason[at] = pair.reason === undefined ? -1 : REASONS.indexOf(pair.reason);
    looks[at] = looksCode(LOOK_DAYS.map((day) => pair.looks[day]));
    if (isNoted(pair)) noted.push(at);
  });
  return {
    count,
    handedOverDay,
    firstWornDay,
    endedDay,
    outcome,
    reason,
    looks,
    groups: once((by) => grouped(count, (at) => groupOf(given[at]!, by))),
    inOrder: ordered(() =>
      Int32Array.from(given.keys()).sort(
        (a, b) => handedOverDay[a]! - handedOverDay[b]! || (given[a]!.pairId < given[b]!.pairId ? -1 : 1),
      ),
    ),
    noted: Int32Array.from(noted),
    pairId: (at) => given[at]!.pairId,
    pair: (at) => given[at]!,
  };
}

const isList = (given: PairsGiven): given is readonly FinishedPair[] => Array.isArray(given);

export const looksCode = (states: readonly LookState[]): number =>
  states.reduce((code, state, look) => code | (LOOK_STATES.indexOf(state) << (2 * look)), 0);

const isNoted = (pair: FinishedPair): boolean =>
  wayBackOf(pair.outcome === null ? -1 : OUTCOMES.indexOf(pair.outcome)) >= 0 ||
  pair.causeFound !== undefined ||
  pair.causeSuggested !== undefined ||
  pair.actTaken !== undefined ||
  pair.actSuggested !== undefined ||
  (pair.reMeasured ?? []).length > 0 ||
  pair.creditPromised !== undefined ||
  pair.creditReceived !== undefined;

/** A grouping is worked out when it is first asked for, and once. */
export function once(make: (by: Grouping) => Grouped): (by: Grouping) => Grouped {
  const made = new Map<Grouping, Grouped>();
  return (by) => {
    const found = made.get(by) ?? make(by);
    made.set(by, found);
    return found;
  };
}

export function ordered(make: () => Int32Array): () => Int32Array {
  let made: Int32Array | undefined;
  return () => {
    made ??= make();
    return made;
  };
}

/** Codes for names, in the order in which they first appear. */
function grouped(count: number, nameAt: (at: number) => string): Grouped {
  const codes = new Int32Array(count);
  const known = new Map<string, number>();
  for (let at = 0; at < count; at += 1) {
    const name = nameAt(at);
    let code = known.get(name);
    if (code === undefined) {
      code = known.size;
      known.set(name, code);
    }
    codes[at] = code;
  }
  return { names: [...known.keys()], codes };
}

/** The pairs with something of their own on record, whole. */
export const notedPairs = (columns: PairColumns): FinishedPair[] => Array.from(columns.noted, columns.pair);

const WAY_OF_OUTCOME = OUTCOMES.map((outcome) =>
  outcome === 'remade in the same design'
    ? WAYS_BACK.indexOf('remade')
    : outcome === 'exchanged' || outcome === 'refunded'
      ? WAYS_BACK.indexOf(outcome)
      : -1,
);
const OTHER_REASON = WAYS_BACK.indexOf('other reason');
const IS_SETTLING_REASON = REASONS.map((reason) => SETTLING_REASONS.has(reason));

/** Index into `WAYS_BACK` of an outcome's code, or −1 when the pair is not back. */
export const wayBackOf = (outcome: number): number => (outcome < 0 ? -1 : WAY_OF_OUTCOME[outcome]!);

/** As `cameBack`, by codes: index into `WAYS_BACK`, or −1 when the pair is not known to be back by `today`. */
export function wayAt(columns: PairColumns, at: number, reasons: ReasonsCounted, today: number): number {
  const way = wayBackOf(columns.outcome[at]!);
  if (way < 0 || columns.endedDay[at]! > today) return -1;
  const reason = columns.reason[at]!;
  return reasons === 'all reasons' || (reason >= 0 && IS_SETTLING_REASON[reason]!) ? way : OTHER_REASON;
}

/** Whole days from the hand-over to the end, never below 0. */
export const afterDaysAt = (columns: PairColumns, at: number): number =>
  Math.max(0, columns.endedDay[at]! - columns.handedOverDay[at]!);

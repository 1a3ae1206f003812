import { type Grouping, WAYS_BACK } from './pairs.ts';
import type { PairsInColumns } from './ripePairs.ts';
import type { Behind } from './trace.ts';

/** The last day by which shares are told. */
export const LAST_DAY = 90;
const WAYS = WAYS_BACK.length;

type End = { readonly day: number; readonly way: number; readonly at: number };

/** One group as it is counted. */
export type CountedGroup = {
  readonly name: string;
  readonly handedOver: Behind;
  readonly ripe: Behind;
  readonly back: Behind;
  readonly asked: Behind;
  readonly answered: Behind;
  /** Expected events by the mix of work; 0 when that is not known. */
  readonly expected: number;
  /** Every pair that came back by the last day: when, how, and where it stands in the columns. */
  readonly ends: readonly End[];
  /** By day and way, flat: how many came back. */
  readonly endCounts: Int32Array;
  /** By day: how many left the watch, back or not. */
  readonly leaving: Int32Array;
};

/** All groups of one grouping, and the shop as a whole, in one pass over the columns. */
export function countGroups(
  columns: PairsInColumns,
  by: Grouping,
): { readonly groups: readonly CountedGroup[]; readonly shop: CountedGroup } {
  const { ageDays } = columns;
  const { names, codes } = columns.columns.groups(by);
  const tallies = names.map(emptyTally);
  for (let at = 0; at < codes.length; at += 1) {
    if (ageDays[at]! >= 0) countPair(tallies[codes[at]!]!, columns, at);
  }
  const whole = emptyTally('all');
  for (const tally of tallies) addTally(whole, tally);
  return {
    groups: tallies.flatMap((tally, code) =>
      tally.handedOver === 0 ? [] : [counted(tally, columns, (at) => codes[at] === code)],
    ),
    shop: counted(whole, columns, () => true),
  };
}

type Tally = {
  readonly name: string;
  handedOver: number;
  ripe: number;
  back: number;
  asked: number;
  answered: number;
  expected: number;
  readonly ends: End[];
  readonly endCounts: Int32Array;
  readonly leaving: Int32Array;
};

const emptyTally = (name: string): Tally => ({
  name,
  handedOver: 0,
  ripe: 0,
  back: 0,
  asked: 0,
  answered: 0,
  expected: 0,
  ends: [],
  endCounts: new Int32Array((LAST_DAY + 1) * WAYS),
  leaving: new Int32Array(LAST_DAY + 2),
});

function countPair(tally: Tally, columns: PairsInColumns, at: number): void {
  tally.handedOver += 1;
  tally.ripe += columns.ripe[at]!;
  tally.back += columns.back[at]!;
  if (columns.followed[at]! > 0) tally.asked += 1;
  if (columns.followed[at] === 2) tally.answered += 1;
  if (columns.expected !== null) tally.expected += columns.expected[at]!;
  const way = columns.way[at]!;
  const day = columns.afterDays[at]!;
  if (way < 0 || day > LAST_DAY) {
    tally.leaving[Math.min(columns.ageDays[at]!, LAST_DAY + 1)]! += 1;
    return;
  }
  tally.leaving[day]! += 1;
  tally.endCounts[day * WAYS + way]! += 1;
  tally.ends.push({ day, way, at });
}

function addTally(whole: Tally, part: Tally): void {
  whole.handedOver += part.handedOver;
  whole.ripe += part.ripe;
  whole.back += part.back;
  whole.asked += part.asked;
  whole.answered += part.answered;
}

function counted(tally: Tally, columns: PairsInColumns, belongs: (at: number) => boolean): CountedGroup {
  const { ageDays, ripe, back, followed } = columns;
  const { count: pairs, pairId } = columns.columns;
  const behind = (count: number, holds: (at: number) => boolean): Behind => {
    let ids: string[] | undefined;
    return {
      count,
      ids: () => {
        if (ids === undefined) {
          ids = [];
          for (let at = 0; at < pairs; at += 1)
            if (ageDays[at]! >= 0 && belongs(at) && holds(at)) ids.push(pairId(at));
        }
        return ids;
      },
    };
  };
  const { name, expected, ends, endCounts, leaving } = tally;
  return {
    name,
    handedOver: behind(tally.handedOver, () => true),
    ripe: behind(tally.ripe, (at) => ripe[at] === 1),
    back: behind(tally.back, (at) => back[at] === 1),
    asked: behind(tally.asked, (at) => followed[at]! > 0),
    answered: behind(tally.answered, (at) => followed[at] === 2),
    expected,
    ends,
    endCounts,
    leaving,
  };
}

import { type Grouping, groupOf, WAYS_BACK } from './pairs.ts';
import type { PairsInColumns } from './ripePairs.ts';
import type { Behind } from './trace.ts';

/** The last day by which shares are told. */
export const LAST_DAY = 90;
const WAYS = WAYS_BACK.length;

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
  /** Every pair that came back by the last day: when, and how. */
  readonly ends: readonly { readonly day: number; readonly way: number; readonly pairId: string }[];
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
  const { pairs, ageDays } = columns;
  const names = new Map<string, number>();
  const groupAt = new Int32Array(pairs.length).fill(-1);
  for (let at = 0; at < pairs.length; at += 1) {
    if (ageDays[at]! < 0) continue;
    const name = groupOf(pairs[at]!, by);
    let index = names.get(name);
    if (index === undefined) {
      index = names.size;
      names.set(name, index);
    }
    groupAt[at] = index;
  }
  const tallies = [...names.keys()].map(emptyTally);
  for (let at = 0; at < pairs.length; at += 1) {
    if (groupAt[at]! >= 0) countPair(tallies[groupAt[at]!]!, columns, at);
  }
  const whole = emptyTally('all');
  for (const tally of tallies) addTally(whole, tally);
  return {
    groups: tallies.map((tally, index) => counted(tally, columns, (at) => groupAt[at] === index)),
    shop: counted(whole, columns, (at) => groupAt[at]! >= 0),
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
  readonly ends: { readonly day: number; readonly way: number; readonly pairId: string }[];
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
  tally.ends.push({ day, way, pairId: columns.pairs[at]!.pairId });
}

function addTally(whole: Tally, part: Tally): void {
  whole.handedOver += part.handedOver;
  whole.ripe += part.ripe;
  whole.back += part.back;
  whole.asked += part.asked;
  whole.answered += part.answered;
}

function counted(tally: Tally, columns: PairsInColumns, belongs: (at: number) => boolean): CountedGroup {
  const { pairs, ripe, back, followed } = columns;
  const behind = (count: number, holds: (at: number) => boolean): Behind => {
    let ids: string[] | undefined;
    return {
      count,
      ids: () => {
        ids ??= pairs.flatMap(({ pairId }, at) => (belongs(at) && holds(at) ? [pairId] : []));
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

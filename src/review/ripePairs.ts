import { afterDaysAt, inColumns, type PairColumns, type PairsGiven, wayAt } from './columns.ts';
import { type ReasonsCounted, WAYS_BACK, type WayBack } from './pairs.ts';

/** A pair is ripe when it has been out this long: most remake windows have closed by then. Our own choice. */
export const RIPE_AFTER_DAYS = 60;

export type RateSettings = {
  readonly today: number;
  readonly reasons: ReasonsCounted;
  /** Which ways back the count and the comparison take; every way is shown by itself too. */
  readonly ways?: readonly WayBack[];
  readonly ripeAfterDays?: number;
  /** Pairs handed over on or before this day are left out; none when absent. */
  readonly handedOverAfter?: number;
};

/** What the rates need of every pair, worked out once for a dozen groupings of the same pairs. */
export type PairsInColumns = {
  readonly columns: PairColumns;
  readonly reasons: ReasonsCounted;
  readonly ways: readonly WayBack[];
  readonly ripeAfterDays: number;
  /** Days since the hand-over; below 0 for a pair that nothing counts: not handed over yet, or left out. */
  readonly ageDays: Int32Array;
  /** Index into `WAYS_BACK`, or −1 while the pair is out. */
  readonly way: Int8Array;
  readonly afterDays: Int32Array;
  /** 1 for a pair that has been out for the ripening time. */
  readonly ripe: Uint8Array;
  /** 1 for a ripe pair that came back within the ripening time, in a way that counts. */
  readonly back: Uint8Array;
  /** 0 not asked, 1 asked, 2 answered at least once. */
  readonly followed: Uint8Array;
  /** Expected events of each ripe pair from the shop's rate for its kind of work; null with too few events. */
  readonly expected: Float64Array | null;
};

export function pairsInColumns(given: PairsGiven, settings: RateSettings): PairsInColumns {
  const columns = inColumns(given);
  const ways = settings.ways ?? ['remade', 'exchanged', 'refunded'];
  const ripeAfterDays = settings.ripeAfterDays ?? RIPE_AFTER_DAYS;
  const { reasons, today, handedOverAfter = Number.NEGATIVE_INFINITY } = settings;
  const counts = WAYS_BACK.map((way) => ways.includes(way));
  const n = columns.count;
  const ageDays = new Int32Array(n);
  const way = new Int8Array(n).fill(-1);
  const afterDays = new Int32Array(n);
  const ripe = new Uint8Array(n);
  const back = new Uint8Array(n);
  const followed = new Uint8Array(n);
  for (let at = 0; at < n; at += 1) {
    const handedOver = columns.handedOverDay[at]!;
    const age = handedOver <= handedOverAfter ? -1 : today - handedOver;
    ageDays[at] = age;
    if (age < 0) continue;
    ripe[at] = age >= ripeAfterDays ? 1 : 0;
    followed[at] = FOLLOWED[columns.looks[at]!]!;
    const index = wayAt(columns, at, reasons, today);
    if (index < 0) continue;
    way[at] = index;
    const after = afterDaysAt(columns, at);
    afterDays[at] = after;
    back[at] = ripe[at] === 1 && after <= ripeAfterDays && counts[index] ? 1 : 0;
  }
  return {
    columns,
    reasons,
    ways,
    ripeAfterDays,
    ageDays,
    way,
    afterDays,
    ripe,
    back,
    followed,
    expected: expectedByMix(columns, ripe, back),
  };
}

/** By the code of the looks: 2 when any was answered, 1 when any stayed silent. */
const FOLLOWED = Uint8Array.from({ length: 64 }, (_, code) => {
  const states = [code & 3, (code >> 2) & 3, (code >> 4) & 3];
  return states.some((state) => state >= 2) ? 2 : states.some((state) => state === 1) ? 1 : 0;
});

/**
 * Expected events of one pair from the shop's rate in its stratum: first wearer and add band, or first wearer alone, so
 * that every stratum has about ten events. Our own choice of strata and limit.
 */
function expectedByMix(columns: PairColumns, ripe: Uint8Array, back: Uint8Array): Float64Array | null {
  let events = 0;
  for (const one of back) events += one;
  const wearers = columns.groups('firstWearer');
  const adds = columns.groups('addBand');
  for (const fine of [true, false]) {
    const wide = fine ? adds.names.length : 1;
    const stratumAt = (at: number): number => wearers.codes[at]! * wide + (fine ? adds.codes[at]! : 0);
    const pairs = new Int32Array(wearers.names.length * wide);
    const ripened = new Int32Array(pairs.length);
    const came = new Int32Array(pairs.length);
    for (let at = 0; at < columns.count; at += 1) {
      const stratum = stratumAt(at);
      pairs[stratum]! += 1;
      ripened[stratum]! += ripe[at]!;
      came[stratum]! += back[at]!;
    }
    const strata = pairs.filter((count) => count > 0).length;
    if (strata < 2 || events < 10 * strata) continue;
    const expected = new Float64Array(columns.count);
    for (let at = 0; at < columns.count; at += 1) {
      const stratum = stratumAt(at);
      if (ripe[at] === 1) expected[at] = came[stratum]! / ripened[stratum]!;
    }
    return expected;
  }
  return null;
}

import { cameBack, type FinishedPair, type ReasonsCounted, WAYS_BACK, type WayBack } from './pairs.ts';

/** A pair is ripe when it has been out this long: most remake windows have closed by then. Our own choice. */
export const RIPE_AFTER_DAYS = 60;

export type RateSettings = {
  readonly today: number;
  readonly reasons: ReasonsCounted;
  /** Which ways back the count and the comparison take; every way is shown by itself too. */
  readonly ways?: readonly WayBack[];
  readonly ripeAfterDays?: number;
};

/**
 * What the rates need of every pair, worked out once and kept in columns: a page asks for a dozen groupings of the same
 * pairs, and a big shop has a hundred thousand of them.
 */
export type PairsInColumns = {
  readonly pairs: readonly FinishedPair[];
  readonly reasons: ReasonsCounted;
  readonly ways: readonly WayBack[];
  readonly ripeAfterDays: number;
  /** Days since the hand-over; below 0 for a pair not handed over yet, which nothing counts. */
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

export function pairsInColumns(pairs: readonly FinishedPair[], settings: RateSettings): PairsInColumns {
  const ways = settings.ways ?? ['remade', 'exchanged', 'refunded'];
  const ripeAfterDays = settings.ripeAfterDays ?? RIPE_AFTER_DAYS;
  const counts = WAYS_BACK.map((way) => ways.includes(way));
  const n = pairs.length;
  const ageDays = new Int32Array(n);
  const way = new Int8Array(n).fill(-1);
  const afterDays = new Int32Array(n);
  const ripe = new Uint8Array(n);
  const back = new Uint8Array(n);
  const followed = new Uint8Array(n);
  pairs.forEach((pair, at) => {
    const age = settings.today - pair.handedOverDay;
    ageDays[at] = age;
    ripe[at] = age >= ripeAfterDays ? 1 : 0;
    followed[at] = followedState(pair);
    const found = cameBack(pair, settings.reasons, settings.today);
    if (found === null) return;
    const index = WAYS_BACK.indexOf(found.way);
    way[at] = index;
    afterDays[at] = found.afterDays;
    back[at] = ripe[at] === 1 && found.afterDays <= ripeAfterDays && counts[index] ? 1 : 0;
  });
  return {
    pairs,
    reasons: settings.reasons,
    ways,
    ripeAfterDays,
    ageDays,
    way,
    afterDays,
    ripe,
    back,
    followed,
    expected: expectedByMix(pairs, ripe, back),
  };
}

function followedState({ looks }: FinishedPair): 0 | 1 | 2 {
  let asked: 0 | 1 = 0;
  for (const day of [7, 14, 30] as const) {
    const state = looks[day];
    if (state === 'settled' || state === 'not yet') return 2;
    if (state === 'silent') asked = 1;
  }
  return asked;
}

/**
 * Expected events of one pair from the shop's rate in its stratum: first wearer and add band, or first wearer alone, so
 * that every stratum has about ten events. Our own choice of strata and limit.
 */
function expectedByMix(
  pairs: readonly FinishedPair[],
  ripe: Uint8Array,
  back: Uint8Array,
): Float64Array | null {
  const events = back.reduce((sum, one) => sum + one, 0);
  const kinds: ((pair: FinishedPair) => string)[] = [
    ({ firstWearer, addBand }) => (firstWearer ? `first ${addBand}` : `${firstWearer} ${addBand}`),
    ({ firstWearer }) => String(firstWearer),
  ];
  for (const kindOf of kinds) {
    const strata = new Map<string, { n: number; events: number }>();
    const stratumOf = pairs.map((pair) => {
      const kind = kindOf(pair);
      let stratum = strata.get(kind);
      if (stratum === undefined) {
        stratum = { n: 0, events: 0 };
        strata.set(kind, stratum);
      }
      return stratum;
    });
    stratumOf.forEach((stratum, at) => {
      stratum.n += ripe[at]!;
      stratum.events += back[at]!;
    });
    if (strata.size < 2 || events < 10 * strata.size) continue;
    const expected = new Float64Array(pairs.length);
    stratumOf.forEach((stratum, at) => {
      if (ripe[at] === 1) expected[at] = stratum.events / stratum.n;
    });
    return expected;
  }
  return null;
}

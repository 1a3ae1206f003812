import { aalenJohansen, shareInterval } from './aalenJohansen.ts';
import { type AnyDifference, anyDifference } from './anyDifference.ts';
import { chanceFirstHigher } from './chanceHigher.ts';
import { fisherExact } from './fisherExact.ts';
import { leaveOneOutRates, overDispersion, type Place, placeInFunnel } from './funnelLimits.ts';
import { stepOn } from './kaplanMeier.ts';
import { adjustHolm } from './manyLooks.ts';
import { normalCdf, normalQuantile } from './normalDistribution.ts';
import { type Interval, wilson } from './oneRate.ts';
import {
  cameBack,
  type FinishedPair,
  type Grouping,
  inGroups,
  PERSON_GROUPINGS,
  type ReasonsCounted,
  WAYS_BACK,
  type WayBack,
} from './pairs.ts';
import { type Group, type ShrunkenRate, shrinkRates } from './shrinkage.ts';
import type { Figure, Trace } from './trace.ts';
import type { DayTally } from './watched.ts';
import { countInWords, percent, percentRange } from './words.ts';

/** Under this many ripe pairs nothing is said of a group. Our own choice. */
export const FEWEST_RIPE = 20;
/** A pair is ripe when it has been out this long: most remake windows have closed by then. Our own choice. */
export const RIPE_AFTER_DAYS = 60;
export const RATE_DAYS = [30, 60, 90] as const;

export type Verdict = 'too few to say' | 'like the rest' | 'watch' | 'worse than the rest' | 'better';

export type RateSettings = {
  readonly today: number;
  readonly reasons: ReasonsCounted;
  /** Which ways back the count and the comparison take; every way is shown by itself too. */
  readonly ways?: readonly WayBack[];
  readonly ripeAfterDays?: number;
};

export type ShareByDay = {
  readonly day: (typeof RATE_DAYS)[number];
  readonly atRisk: number;
  readonly back: Readonly<Record<WayBack, Figure>>;
};

export type GroupRates = {
  readonly group: string;
  readonly handedOver: number;
  readonly ripe: number;
  /** Ripe pairs that came back within the ripening time, in the ways counted. */
  readonly remakes: number;
  readonly rate: Figure;
  /** Share back by each day, ways excluding one another, young pairs counted as long as they are out. */
  readonly byDay: readonly ShareByDay[];
  readonly shrunken: Figure & { readonly interval: Interval };
  /** Chance that the true rate is above that of all the other pairs; null while too few. */
  readonly chanceWorse: Figure | null;
  readonly verdict: Verdict;
  /** The p of the comparison with the rest, two-sided, and after Holm over all groups looked at; null while too few. */
  readonly p: number | null;
  readonly pHolm: number | null;
  /** How many would be back if the group did as the shop does with the same mix of work; null with too few events. */
  readonly expectedByMix: number | null;
  /** Pairs of which at least one answer came. */
  readonly followed: Figure;
  readonly sentence: string;
};

export type RemakeRates = {
  readonly by: Grouping;
  readonly reasons: ReasonsCounted;
  readonly ways: readonly WayBack[];
  readonly ripeAfterDays: number;
  readonly shop: {
    readonly ripe: number;
    readonly remakes: number;
    readonly rate: Figure;
    readonly followed: Figure;
  };
  /** Largest first; people by name, those with few pairs left out. */
  readonly groups: readonly GroupRates[];
  readonly hiddenFew: number;
  /** One test whether any group differs at all. */
  readonly anyDifference: AnyDifference;
  readonly overDispersion: number | null;
  readonly shrinkage: string;
  /** How many looks were taken, and how they are guarded. */
  readonly looks: string;
};

type Counted = {
  readonly name: string;
  readonly pairs: readonly FinishedPair[];
  readonly ripe: readonly FinishedPair[];
  readonly back: readonly FinishedPair[];
  readonly expected: number;
  readonly byDay: readonly ShareByDay[];
  readonly followed: Figure;
};

/**
 * How often pairs came back, by any grouping. Ripe pairs give the count and the comparison; the share by 30, 60 and 90
 * days is the Aalen-Johansen estimate in which the ways back exclude one another and younger pairs count for as long as
 * they are out. A remake passes through the shop's own hands, so a silent wearer's pair is watched until today.
 * The verdict: exact funnel tails round the rate of all other ripe pairs (2.5 % "watch", 0.1 % "worse than the rest" or
 * "better"), held back where the exact comparison of the two counts (mid-p) does not bear it out because the rest
 * are few. Low between the bands counts as "like the rest".
 */
export function remakeRates(
  pairs: readonly FinishedPair[],
  by: Grouping,
  settings: RateSettings,
): RemakeRates {
  const ways = settings.ways ?? ['remade', 'exchanged', 'refunded'];
  const ripeAfterDays = settings.ripeAfterDays ?? RIPE_AFTER_DAYS;
  const wanted = new Set<WayBack>(ways);
  const isRipe = (pair: FinishedPair): boolean => pair.handedOverDay + ripeAfterDays <= settings.today;
  const isBack = (pair: FinishedPair): boolean => {
    const back = cameBack(pair, settings.reasons, settings.today);
    return back !== null && back.afterDays <= ripeAfterDays && wanted.has(back.way);
  };
  const allRipe = pairs.filter(isRipe);
  const allBack = allRipe.filter(isBack);
  const expectedOf = expectedByMix(allRipe, allBack);

  const counted: Counted[] = [...inGroups(pairs, by)].map(([name, members]) => {
    const ripe = members.filter(isRipe);
    return {
      name,
      pairs: members,
      ripe,
      back: ripe.filter(isBack),
      expected: ripe.reduce((sum, pair) => sum + expectedOf(pair), 0),
      byDay: sharesByDay(members, settings),
      followed: followedShare(members),
    };
  });
  const groups: Group[] = counted.map(({ ripe, back }) => ({ events: back.length, n: ripe.length }));
  const shop: Group = { events: allBack.length, n: allRipe.length };
  const shrinkage = shrinkRates(groups);
  const judged = judge(groups, shop);
  const method = `ripe pairs (out ${ripeAfterDays} days or longer), ${ways.join(', ')}, ${settings.reasons}`;

  const rows = counted.map((one, at) =>
    groupRow(one, groups[at]!, shop, shrinkage.rates[at]!, shrinkage.method, judged.groups[at]!, method),
  );
  const people = PERSON_GROUPINGS.has(by);
  const shown = people ? rows.filter(({ ripe }) => ripe >= FEWEST_RIPE) : rows;
  shown.sort(people ? byName : (a, b) => b.ripe - a.ripe || byName(a, b));
  return {
    by,
    reasons: settings.reasons,
    ways,
    ripeAfterDays,
    shop: {
      ripe: shop.n,
      remakes: shop.events,
      rate: rateFigure(allBack, allRipe, method),
      followed: followedShare(pairs),
    },
    groups: shown,
    hiddenFew: rows.length - shown.length,
    anyDifference: anyDifference(
      groups.map(({ events }) => events),
      groups.map(({ n }) => n),
    ),
    overDispersion: judged.phi,
    shrinkage: shrinkage.method,
    looks: judged.looks,
  };
}

const byName = (a: GroupRates, b: GroupRates): number => (a.group < b.group ? -1 : 1);
const ids = (pairs: readonly FinishedPair[]): string[] => pairs.map(({ pairId }) => pairId);

function rateFigure(back: readonly FinishedPair[], ripe: readonly FinishedPair[], method: string): Figure {
  return {
    value: ripe.length === 0 ? 0 : back.length / ripe.length,
    trace: {
      method: `${method}; Wilson 95 %`,
      x: back.length,
      n: ripe.length,
      interval: wilson(back.length, ripe.length),
      pairIds: ids(back),
      amongPairIds: ids(ripe),
    },
  };
}

function followedShare(pairs: readonly FinishedPair[]): Figure {
  const asked = pairs.filter(
    ({ looks }) => looks[7] !== 'not due' || looks[14] !== 'not due' || looks[30] !== 'not due',
  );
  const answered = asked.filter(({ looks }) =>
    [looks[7], looks[14], looks[30]].some((s) => s === 'settled' || s === 'not yet'),
  );
  return {
    value: asked.length === 0 ? 0 : answered.length / asked.length,
    trace: {
      method: 'pairs with an answer to at least one look, of those asked; Wilson 95 %',
      x: answered.length,
      n: asked.length,
      interval: wilson(answered.length, asked.length),
      pairIds: ids(answered),
      amongPairIds: ids(asked),
    },
  };
}

function sharesByDay(pairs: readonly FinishedPair[], { reasons, today }: RateSettings): ShareByDay[] {
  const last = RATE_DAYS[RATE_DAYS.length - 1]!;
  const ends = Array.from({ length: last + 1 }, () => WAYS_BACK.map(() => 0));
  const leaving = new Array<number>(last + 2).fill(0);
  const backPairs = WAYS_BACK.map((): { day: number; pairId: string }[] => []);
  let watched = 0;
  const among: string[] = [];
  for (const pair of pairs) {
    const age = today - pair.handedOverDay;
    if (age < 0) continue;
    watched += 1;
    among.push(pair.pairId);
    const back = cameBack(pair, reasons, today);
    if (back === null || back.afterDays > last) {
      leaving[Math.min(age, last + 1)]! += 1;
      continue;
    }
    const way = WAYS_BACK.indexOf(back.way);
    leaving[back.afterDays]! += 1;
    ends[back.afterDays]![way]! += 1;
    backPairs[way]!.push({ day: back.afterDays, pairId: pair.pairId });
  }
  const tally: DayTally[] = [];
  let atRisk = watched;
  const riskOn: number[] = [];
  for (let day = 0; day <= last; day += 1) {
    riskOn.push(atRisk);
    const counts = ends[day]!;
    const allEnds = counts.reduce((sum, count) => sum + count, 0);
    if (allEnds > 0) tally.push({ day, atRisk, ends: counts, allEnds });
    atRisk -= leaving[day]!;
  }
  const steps = aalenJohansen(tally);
  return RATE_DAYS.map((day) => {
    const step = stepOn(steps, day);
    const figures = WAYS_BACK.map((way, k): [WayBack, Figure] => {
      const behind = backPairs[k]!.filter((one) => one.day <= day).map(({ pairId }) => pairId);
      const value = step?.shares[k] ?? 0;
      // No event seen: the error is 0 and says nothing, so the bound for "none of those still watched" stands in.
      const interval =
        behind.length === 0 ? wilson(0, riskOn[day]!) : shareInterval(value, step?.errors[k] ?? 0);
      const trace: Trace = {
        method: `Aalen-Johansen share by day ${day}, ways back excluding one another, ${reasons}; ${
          behind.length === 0 ? 'none seen, Wilson 95 % on those still watched' : 'log-log 95 %'
        }`,
        x: behind.length,
        n: watched,
        interval,
        pairIds: behind,
        amongPairIds: among,
      };
      return [way, { value, trace }];
    });
    return { day, atRisk: riskOn[day]!, back: Object.fromEntries(figures) as Record<WayBack, Figure> };
  });
}

type Judgement = { readonly verdict: Verdict; readonly p: number | null; readonly pHolm: number | null };

function judge(
  groups: readonly Group[],
  shop: Group,
): { readonly groups: readonly Judgement[]; readonly phi: number | null; readonly looks: string } {
  const centres = leaveOneOutRates(groups);
  const judgeable = groups.map(({ n }) => n >= FEWEST_RIPE && shop.n - n >= FEWEST_RIPE);
  const k = judgeable.filter(Boolean).length;
  const rate = shop.n === 0 ? 0 : shop.events / shop.n;
  // Few groups cannot tell spread among all from one that stands out, so limits are widened only from 20 on.
  const spread =
    k >= 20 && rate > 0 && rate < 1
      ? overDispersion(
          groups.filter((_, at) => judgeable[at]),
          rate,
        )
      : null;
  const widen = spread?.inflateLimits ? Math.sqrt(spread.phi) : 1;
  const fisher = groups.map((group, at) =>
    judgeable[at] ? fisherExact(group.events, group.n, shop.events - group.events, shop.n - group.n) : null,
  );
  const p = fisher.map((found) =>
    found === null ? null : Math.min(1, 2 * Math.min(found.midPGreater, found.midPLess)),
  );
  const holm = adjustHolm(p.filter((value) => value !== null));
  let next = 0;
  const judgements = groups.map((group, at): Judgement => {
    const found = fisher[at];
    if (!found) return { verdict: 'too few to say', p: null, pHolm: null };
    const { upperTail, lowerTail } = placeInFunnel(group, centres[at]!);
    const above = Math.max(widened(upperTail, widen), found.midPGreater);
    const below = Math.max(widened(lowerTail, widen), found.midPLess);
    const verdict = verdictOf(
      above <= 0.001 ? 'above 99.8' : above <= 0.025 ? 'above 95' : below <= 0.001 ? 'below 99.8' : 'inside',
    );
    const pHolm = holm[next]!;
    next += 1;
    return { verdict, p: p[at]!, pHolm };
  });
  const looks =
    k < 2
      ? 'nothing to compare yet'
      : `${k} groups looked at; of ${k} alike, one would lie above the 95 % band by luck ${percent(1 - 0.975 ** k)} times in 100, above the 99.8 % band ${percent(1 - 0.999 ** k)}; p adjusted by Holm`;
  return { groups: judgements, phi: spread?.phi ?? null, looks };
}

/** The tail that is left when the distance from the centre is divided by `factor`. */
function widened(tail: number, factor: number): number {
  if (factor === 1 || tail <= 0 || tail >= 1) return tail;
  return normalCdf(normalQuantile(tail) / factor);
}

function verdictOf(place: Place): Verdict {
  if (place === 'above 99.8') return 'worse than the rest';
  if (place === 'above 95') return 'watch';
  return place === 'below 99.8' ? 'better' : 'like the rest';
}

function groupRow(
  one: Counted,
  group: Group,
  shop: Group,
  shrunken: ShrunkenRate,
  shrinkMethod: string,
  judgement: Judgement,
  method: string,
): GroupRates {
  const rate = rateFigure(one.back, one.ripe, method);
  const rest: Group = { events: shop.events - group.events, n: shop.n - group.n };
  const { pairIds, amongPairIds } = rate.trace;
  const traced = (value: number, how: string, interval?: Interval): Figure => ({
    value,
    trace: {
      method: how,
      x: group.events,
      n: group.n,
      ...(interval === undefined ? {} : { interval }),
      pairIds,
      amongPairIds,
    },
  });
  const interval = { low: shrunken.low, high: shrunken.high };
  const chanceWorse =
    judgement.p === null
      ? null
      : traced(
          chanceFirstHigher(
            { alpha: group.events + 0.5, beta: group.n - group.events + 0.5 },
            { alpha: rest.events + 0.5, beta: rest.n - rest.events + 0.5 },
          ),
          `chance that the rate is above that of the other ${rest.n} ripe pairs (${rest.events} back); Jeffreys prior for both`,
        );
  return {
    group: one.name,
    handedOver: one.pairs.length,
    ripe: group.n,
    remakes: group.events,
    rate,
    byDay: one.byDay,
    shrunken: { ...traced(shrunken.mean, `beta-binomial, ${shrinkMethod}`, interval), interval },
    chanceWorse,
    verdict: judgement.verdict,
    p: judgement.p,
    pHolm: judgement.pHolm,
    expectedByMix: Number.isNaN(one.expected) ? null : one.expected,
    followed: one.followed,
    sentence: sentenceOf(one.name, group, rest, rate, judgement.verdict),
  };
}

function sentenceOf(name: string, group: Group, rest: Group, rate: Figure, verdict: Verdict): string {
  const count = countInWords(group.events, group.n, rate.trace.interval!);
  if (verdict === 'too few to say') return `${name}: ${count}; too few to say.`;
  const others = `${rest.events} of ${rest.n} of all others, ${percentRange(wilson(rest.events, rest.n))}`;
  return `${name}: ${count}; ${verdict} (${others}).`;
}

/**
 * Expected events of one pair from the shop's rate in its stratum: first wearer and add band, first wearer alone, or
 * nothing (not a number), so that every stratum has about ten events. Our own choice of strata and limit.
 */
function expectedByMix(
  ripe: readonly FinishedPair[],
  back: readonly FinishedPair[],
): (pair: FinishedPair) => number {
  const keys: ((pair: FinishedPair) => string)[] = [
    (pair) => `${pair.firstWearer} ${pair.addBand}`,
    (pair) => String(pair.firstWearer),
  ];
  for (const key of keys) {
    const strata = new Map<string, { n: number; events: number }>();
    for (const pair of ripe) {
      const name = key(pair);
      const stratum = strata.get(name);
      if (stratum === undefined) strata.set(name, { n: 1, events: 0 });
      else stratum.n += 1;
    }
    for (const pair of back) strata.get(key(pair))!.events += 1;
    if (strata.size > 1 && back.length >= 10 * strata.size) {
      return (pair) => {
        const stratum = strata.get(key(pair))!;
        return stratum.events / stratum.n;
      };
    }
  }
  return () => Number.NaN;
}

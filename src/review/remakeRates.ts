import { aalenJohansen, shareInterval } from './aalenJohansen.ts';
import { type AnyDifference, anyDifference } from './anyDifference.ts';
import { chanceFirstHigher } from './chanceHigher.ts';
import { stepOn } from './kaplanMeier.ts';
import { type Interval, wilson } from './oneRate.ts';
import {
  type FinishedPair,
  type Grouping,
  groupOf,
  PERSON_GROUPINGS,
  type ReasonsCounted,
  WAYS_BACK,
  type WayBack,
} from './pairs.ts';
import { type PairsInColumns, pairsInColumns, type RateSettings } from './ripePairs.ts';
import { type Group, type ShrunkenRate, shrinkRates } from './shrinkage.ts';
import type { Figure, Trace } from './trace.ts';
import { FEWEST_RIPE, type Judgement, judgeGroups, type Verdict } from './verdicts.ts';
import type { DayTally } from './watched.ts';
import { countInWords, percentRange } from './words.ts';

export const RATE_DAYS = [30, 60, 90] as const;

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

/** One group as it is counted: sums, days and the pairs behind, in one pass over all pairs. */
type Counted = {
  readonly name: string;
  handedOver: number;
  ripe: number;
  back: number;
  expected: number;
  readonly ids: string[];
  readonly ripeIds: string[];
  readonly backIds: string[];
  readonly askedIds: string[];
  readonly answeredIds: string[];
  /** By way and day: how many came back, and who. */
  readonly ends: Int32Array;
  readonly endIds: { readonly way: number; readonly day: number; readonly pairId: string }[];
  /** By day: how many left the watch, back or not. */
  readonly leaving: Int32Array;
};

const LAST_DAY = RATE_DAYS[RATE_DAYS.length - 1]!;
const WAYS = WAYS_BACK.length;

/**
 * How often pairs came back, by any grouping. Ripe pairs give the count and the comparison; the share by 30, 60 and 90
 * days is the Aalen-Johansen estimate in which the ways back exclude one another and younger pairs count for as long as
 * they are out. A remake passes through the shop's own hands, so a silent wearer's pair is watched until today.
 * Verdicts are those of `judgeGroups`.
 */
export function remakeRates(
  pairs: readonly FinishedPair[],
  by: Grouping,
  settings: RateSettings,
): RemakeRates {
  return ratesBy(pairsInColumns(pairs, settings), by);
}

/** The same from pairs already in columns: for several groupings of the same pairs. */
export function ratesBy(columns: PairsInColumns, by: Grouping): RemakeRates {
  const { reasons, ways, ripeAfterDays } = columns;
  const counted = countGroups(columns, by);
  const groups: Group[] = counted.map(({ ripe, back }) => ({ events: back, n: ripe }));
  const shop: Group = { events: columns.backIds.length, n: columns.ripeIds.length };
  const shrinkage = shrinkRates(groups);
  const judged = judgeGroups(groups);
  const method = `ripe pairs (out ${ripeAfterDays} days or longer), ${ways.join(', ')}, ${reasons}`;
  const rows = counted.map((one, at) => {
    const row = {
      one,
      group: groups[at]!,
      shop,
      shrunken: shrinkage.rates[at]!,
      judgement: judged.groups[at]!,
    };
    return groupRow(row, shrinkage.method, method, columns);
  });
  const people = PERSON_GROUPINGS.has(by);
  const shown = people ? rows.filter(({ ripe }) => ripe >= FEWEST_RIPE) : rows;
  shown.sort(people ? byName : (a, b) => b.ripe - a.ripe || byName(a, b));
  return {
    by,
    reasons,
    ways,
    ripeAfterDays,
    shop: {
      ripe: shop.n,
      remakes: shop.events,
      rate: shareFigure(columns.backIds, columns.ripeIds, method),
      followed: shareFigure(columns.answeredIds, columns.askedIds, FOLLOWED),
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

const FOLLOWED = 'pairs with an answer to at least one look, of those asked';
const byName = (a: GroupRates, b: GroupRates): number => (a.group < b.group ? -1 : 1);

function countGroups(columns: PairsInColumns, by: Grouping): Counted[] {
  const { pairs, ageDays, way, afterDays, ripe, back, followed, expected } = columns;
  const groups = new Map<string, Counted>();
  for (let at = 0; at < pairs.length; at += 1) {
    const age = ageDays[at]!;
    if (age < 0) continue;
    const pair = pairs[at]!;
    const name = groupOf(pair, by);
    let group = groups.get(name);
    if (group === undefined) {
      group = emptyGroup(name);
      groups.set(name, group);
    }
    const { pairId } = pair;
    group.handedOver += 1;
    group.ids.push(pairId);
    if (followed[at]! > 0) group.askedIds.push(pairId);
    if (followed[at] === 2) group.answeredIds.push(pairId);
    if (ripe[at] === 1) {
      group.ripe += 1;
      group.ripeIds.push(pairId);
      if (expected !== null) group.expected += expected[at]!;
    }
    if (back[at] === 1) {
      group.back += 1;
      group.backIds.push(pairId);
    }
    const day = afterDays[at]!;
    if (way[at]! < 0 || day > LAST_DAY) {
      group.leaving[Math.min(age, LAST_DAY + 1)]! += 1;
      continue;
    }
    group.leaving[day]! += 1;
    group.ends[day * WAYS + way[at]!]! += 1;
    group.endIds.push({ way: way[at]!, day, pairId });
  }
  return [...groups.values()];
}

function emptyGroup(name: string): Counted {
  return {
    name,
    handedOver: 0,
    ripe: 0,
    back: 0,
    expected: 0,
    ids: [],
    ripeIds: [],
    backIds: [],
    askedIds: [],
    answeredIds: [],
    ends: new Int32Array((LAST_DAY + 1) * WAYS),
    endIds: [],
    leaving: new Int32Array(LAST_DAY + 2),
  };
}

function shareFigure(pairIds: readonly string[], amongPairIds: readonly string[], method: string): Figure {
  const x = pairIds.length;
  const n = amongPairIds.length;
  return {
    value: n === 0 ? 0 : x / n,
    trace: { method: `${method}; Wilson 95 %`, x, n, interval: wilson(x, n), pairIds, amongPairIds },
  };
}

function sharesByDay(one: Counted, reasons: ReasonsCounted): ShareByDay[] {
  const tally: DayTally[] = [];
  let atRisk = one.handedOver;
  const riskOn: number[] = [];
  for (let day = 0; day <= LAST_DAY; day += 1) {
    riskOn.push(atRisk);
    const ends = Array.from(one.ends.subarray(day * WAYS, (day + 1) * WAYS));
    const allEnds = ends.reduce((sum, count) => sum + count, 0);
    if (allEnds > 0) tally.push({ day, atRisk, ends, allEnds });
    atRisk -= one.leaving[day]!;
  }
  const steps = aalenJohansen(tally);
  return RATE_DAYS.map((day) => {
    const step = stepOn(steps, day);
    const figures = WAYS_BACK.map((way, k): [WayBack, Figure] => {
      const behind = one.endIds.filter((end) => end.way === k && end.day <= day).map(({ pairId }) => pairId);
      const value = step?.shares[k] ?? 0;
      const none = behind.length === 0;
      const trace: Trace = {
        method: `Aalen-Johansen share by day ${day}, ways back excluding one another, ${reasons}; ${
          none ? 'none seen, Wilson 95 % on those still watched' : 'log-log 95 %'
        }`,
        x: behind.length,
        n: one.handedOver,
        // No event seen: the error is 0 and says nothing, so the bound for "none of those still watched" stands in.
        interval: none ? wilson(0, riskOn[day]!) : shareInterval(value, step?.errors[k] ?? 0),
        pairIds: behind,
        amongPairIds: one.ids,
      };
      return [way, { value, trace }];
    });
    return { day, atRisk: riskOn[day]!, back: Object.fromEntries(figures) as Record<WayBack, Figure> };
  });
}

type Row = {
  readonly one: Counted;
  readonly group: Group;
  readonly shop: Group;
  readonly shrunken: ShrunkenRate;
  readonly judgement: Judgement;
};

function groupRow(
  { one, group, shop, shrunken, judgement }: Row,
  shrinkMethod: string,
  method: string,
  { reasons, expected }: PairsInColumns,
): GroupRates {
  const rate = shareFigure(one.backIds, one.ripeIds, method);
  const rest: Group = { events: shop.events - group.events, n: shop.n - group.n };
  const { pairIds, amongPairIds } = rate.trace;
  const behind = { x: group.events, n: group.n, pairIds, amongPairIds };
  const interval = { low: shrunken.low, high: shrunken.high };
  return {
    group: one.name,
    handedOver: one.handedOver,
    ripe: group.n,
    remakes: group.events,
    rate,
    byDay: sharesByDay(one, reasons),
    shrunken: {
      value: shrunken.mean,
      interval,
      trace: { method: `beta-binomial, ${shrinkMethod}`, ...behind, interval },
    },
    chanceWorse:
      judgement.p === null
        ? null
        : { value: chanceWorse(group, rest), trace: { method: chanceMethod(rest), ...behind } },
    verdict: judgement.verdict,
    p: judgement.p,
    pHolm: judgement.pHolm,
    expectedByMix: expected === null ? null : one.expected,
    followed: shareFigure(one.answeredIds, one.askedIds, FOLLOWED),
    sentence: sentenceOf(one.name, group, rest, rate, judgement.verdict),
  };
}

const chanceMethod = (rest: Group): string =>
  `chance that the rate is above that of the other ${rest.n} ripe pairs (${rest.events} back); Jeffreys prior for both`;

function chanceWorse(group: Group, rest: Group): number {
  return chanceFirstHigher(
    { alpha: group.events + 0.5, beta: group.n - group.events + 0.5 },
    { alpha: rest.events + 0.5, beta: rest.n - rest.events + 0.5 },
  );
}

function sentenceOf(name: string, group: Group, rest: Group, rate: Figure, verdict: Verdict): string {
  const count = countInWords(group.events, group.n, rate.trace.interval!);
  if (verdict === 'too few to say') return `${name}: ${count}; too few to say.`;
  const others = `${rest.events} of ${rest.n} of all others, ${percentRange(wilson(rest.events, rest.n))}`;
  return `${name}: ${count}; ${verdict} (${others}).`;
}

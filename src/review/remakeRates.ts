import { type AnyDifference, anyDifference } from './anyDifference.ts';
import { chanceFirstHigher } from './chanceHigher.ts';
import { type CountedGroup, countGroups } from './countGroups.ts';
import { type Interval, wilson } from './oneRate.ts';
import {
  type FinishedPair,
  type Grouping,
  PERSON_GROUPINGS,
  type ReasonsCounted,
  type WayBack,
} from './pairs.ts';
import { type PairsInColumns, pairsInColumns, type RateSettings } from './ripePairs.ts';
import { type ShareByDay, sharesByDay } from './sharesByDay.ts';
import { type Group, type ShrunkenRate, shrinkRates } from './shrinkage.ts';
import { type Behind, countedTrace, type Figure } from './trace.ts';
import { FEWEST_RIPE, type Judgement, judgeGroups, type Verdict } from './verdicts.ts';
import { countInWords, percentRange } from './words.ts';

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
  const { groups: counted, shop: whole } = countGroups(columns, by);
  const groups = counted.map(asGroup);
  const shop = asGroup(whole);
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
      rate: shareFigure(whole.back, whole.ripe, method),
      followed: shareFigure(whole.answered, whole.asked, FOLLOWED),
    },
    groups: shown,
    hiddenFew: rows.length - shown.length,
    anyDifference: anyDifference(
      groups.map(({ events }) => events),
      groups.map(({ n }) => n),
      TABLES_FOR_A_PAGE,
    ),
    overDispersion: judged.phi,
    shrinkage: shrinkage.method,
    looks: judged.looks,
  };
}

/** The exact overall test is left out where it would keep a page waiting. */
const TABLES_FOR_A_PAGE = 200_000;

const asGroup = ({ back, ripe }: CountedGroup): Group => ({ events: back.count, n: ripe.count });

const FOLLOWED = 'pairs with an answer to at least one look, of those asked';
const byName = (a: GroupRates, b: GroupRates): number => (a.group < b.group ? -1 : 1);

function shareFigure(back: Behind, among: Behind, method: string): Figure {
  const value = among.count === 0 ? 0 : back.count / among.count;
  return {
    value,
    trace: countedTrace(`${method}; Wilson 95 %`, back, among, wilson(back.count, among.count)),
  };
}

type Row = {
  readonly one: CountedGroup;
  readonly group: Group;
  readonly shop: Group;
  readonly shrunken: ShrunkenRate;
  readonly judgement: Judgement;
};

function groupRow(
  { one, group, shop, shrunken, judgement }: Row,
  shrinkMethod: string,
  method: string,
  columns: PairsInColumns,
): GroupRates {
  const rate = shareFigure(one.back, one.ripe, method);
  const rest: Group = { events: shop.events - group.events, n: shop.n - group.n };
  const interval = { low: shrunken.low, high: shrunken.high };
  return {
    group: one.name,
    handedOver: one.handedOver.count,
    ripe: group.n,
    remakes: group.events,
    rate,
    byDay: sharesByDay(one, columns),
    shrunken: {
      value: shrunken.mean,
      interval,
      trace: countedTrace(`beta-binomial, ${shrinkMethod}`, one.back, one.ripe, interval),
    },
    chanceWorse:
      judgement.p === null
        ? null
        : { value: chanceWorse(group, rest), trace: countedTrace(chanceMethod(rest), one.back, one.ripe) },
    verdict: judgement.verdict,
    p: judgement.p,
    pHolm: judgement.pHolm,
    expectedByMix: columns.expected === null ? null : one.expected,
    followed: shareFigure(one.answered, one.asked, FOLLOWED),
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

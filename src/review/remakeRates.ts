import { type AnyDifference, anyDifference } from './anyDifference.ts';
import { chanceFirstHigher } from './chanceHigher.ts';
import type { PairsGiven } from './columns.ts';
import { type CountedGroup, countGroups } from './countGroups.ts';
import { type Interval, wilson } from './oneRate.ts';
import { type Grouping, PERSON_GROUPINGS, type ReasonsCounted, type WayBack } from './pairs.ts';
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
    readonly handedOver: number;
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
export function remakeRates(pairs: PairsGiven, by: Grouping, settings: RateSettings): RemakeRates {
  return ratesBy(pairsInColumns(pairs, settings), by);
}

/** The same from pairs already in columns: for several groupings of the same pairs. */
export function ratesBy(columns: PairsInColumns, by: Grouping): RemakeRates {
  const { reasons, ways, ripeAfterDays } = columns;
  const { judged, judgement, shop: whole, shown, hiddenFew } = judgedGroups(columns, by);
  const groups = judged.map(({ group }) => group);
  const shop = asGroup(whole);
  const shrinkage = shrinkRates(groups);
  const shrunkenOf = new Map(judged.map(({ one }, at) => [one, shrinkage.rates[at]!]));
  return {
    by,
    reasons,
    ways,
    ripeAfterDays,
    shop: {
      handedOver: whole.handedOver.count,
      ripe: shop.n,
      remakes: shop.events,
      rate: shareFigure(whole.back, whole.ripe, methodOf(columns)),
      followed: shareFigure(whole.answered, whole.asked, FOLLOWED),
    },
    groups: shown.map((row) => groupRow(row, shrunkenOf.get(row.one)!, shrinkage.method, columns)),
    hiddenFew,
    anyDifference: anyDifference(
      groups.map(({ events }) => events),
      groups.map(({ n }) => n),
      TABLES_FOR_A_PAGE,
    ),
    overDispersion: judgement.phi,
    shrinkage: shrinkage.method,
    looks: judgement.looks,
  };
}

/** One group's count, its verdict and the sentence about it. */
export type JudgedGroup = {
  readonly one: CountedGroup;
  readonly group: Group;
  readonly rest: Group;
  readonly rate: Figure;
  readonly judgement: Judgement;
  readonly sentence: string;
};

/** Only what is counted and judged of every group: all that the month sheet needs. */
export function judgedGroups(columns: PairsInColumns, by: Grouping) {
  const { groups: counted, shop } = countGroups(columns, by);
  const all = asGroup(shop);
  const judgement = judgeGroups(counted.map(asGroup));
  const method = methodOf(columns);
  const judged = counted.map((one, at): JudgedGroup => {
    const group = asGroup(one);
    const rest = { events: all.events - group.events, n: all.n - group.n };
    const rate = shareFigure(one.back, one.ripe, method);
    const found = judgement.groups[at]!;
    return {
      one,
      group,
      rest,
      rate,
      judgement: found,
      sentence: sentenceOf(one.name, group, rest, rate, found.verdict),
    };
  });
  const people = PERSON_GROUPINGS.has(by);
  const shown = people ? judged.filter(({ group }) => group.n >= FEWEST_RIPE) : [...judged];
  shown.sort(people ? byName : (a, b) => b.group.n - a.group.n || byName(a, b));
  return { judged, judgement, shop, shown, hiddenFew: judged.length - shown.length };
}

const methodOf = ({ ripeAfterDays, ways, reasons }: PairsInColumns): string =>
  `ripe pairs (out ${ripeAfterDays} days or longer), ${ways.join(', ')}, ${reasons}`;

/** The exact overall test is left out where it would keep a page waiting. */
const TABLES_FOR_A_PAGE = 200_000;

const asGroup = ({ back, ripe }: CountedGroup): Group => ({ events: back.count, n: ripe.count });

const FOLLOWED = 'pairs with an answer to at least one look, of those asked';
const byName = (a: JudgedGroup, b: JudgedGroup): number => (a.one.name < b.one.name ? -1 : 1);

function shareFigure(back: Behind, among: Behind, method: string): Figure {
  const value = among.count === 0 ? 0 : back.count / among.count;
  return {
    value,
    trace: countedTrace(`${method}; Wilson 95 %`, back, among, wilson(back.count, among.count)),
  };
}

function groupRow(
  { one, group, rest, rate, judgement, sentence }: JudgedGroup,
  shrunken: ShrunkenRate,
  shrinkMethod: string,
  columns: PairsInColumns,
): GroupRates {
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
    sentence,
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

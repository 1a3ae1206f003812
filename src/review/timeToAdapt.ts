import { aalenJohansen, shareInterval } from './aalenJohansen.ts';
import { kaplanMeier, type MedianDay, medianDay, restrictedMeanDays, stepOn } from './kaplanMeier.ts';
import { type Interval, wilson } from './oneRate.ts';
import {
  type FinishedPair,
  type Grouping,
  inGroups,
  LOOK_DAYS,
  type LookDay,
  PERSON_GROUPINGS,
} from './pairs.ts';
import type { Trace } from './trace.ts';
import { FEWEST_RIPE } from './verdicts.ts';
import { type DayTally, tallyByDay } from './watched.ts';
import { percent, percentRange } from './words.ts';

/** Below this many still watched the curve is cut once any pair was lost: one wearer would stand for many. Our own choice. */
const FEWEST_WATCHED = 5;

type AdaptStep = {
  readonly day: LookDay;
  readonly atRisk: number;
  readonly settled: number;
  readonly settledInterval: Interval;
  readonly back: number;
  readonly backInterval: Interval;
  readonly waiting: number;
  /** Settled share if all silent wearers had settled by the look after their last answer, and if none ever did. */
  readonly ifSilentSettled: number;
  readonly ifSilentDidNot: number;
};

export type TimeToAdapt = {
  readonly group: string;
  /** Cut where fewer than five were still watched and others had been lost before. */
  readonly steps: readonly AdaptStep[];
  /** First look by which half had settled; null: not reached. */
  readonly median: LookDay | null;
  readonly medianWords: string;
  /** First look by which half were no longer waiting, settled or back, with log-log limits. */
  readonly medianAnyEnd: MedianDay;
  /** Mean days until settled or back, counted to day 30; null when nobody was watched. */
  readonly meanDaysToDay30: number | null;
  readonly silent: number;
  readonly sentence: string;
  readonly trace: Trace;
};

/** Said under every such curve. */
export const SEEN_ON_LOOK_DAYS =
  'Seen on days 7, 14 and 30 only: "settled by day 14" means at some time after the day 7 look. Pairs that came back are a separate end, not silence; silent pairs leave at their last answer.';

/**
 * How long until wearers settle, by group: share settled and share back by each look (Aalen-Johansen), median and
 * restricted mean. A day between two looks counts as the next look.
 */
export function timeToAdapt(pairs: readonly FinishedPair[], by: Grouping, today: number): TimeToAdapt[] {
  const people = PERSON_GROUPINGS.has(by);
  return [...inGroups(pairs, by)]
    .filter(([, members]) => !people || members.length >= FEWEST_RIPE)
    .map(([group, members]) => adaptation(group, members, today))
    .sort((a, b) => (people ? 0 : b.trace.n - a.trace.n) || (a.group < b.group ? -1 : 1));
}

/** The same for all pairs given, under one name. */
export function adaptation(group: string, pairs: readonly FinishedPair[], today: number): TimeToAdapt {
  const handedOver = pairs.filter(({ handedOverDay }) => handedOverDay <= today);
  const watches = handedOver.map((pair) => watchOf(pair, today));
  const tally = tallyOf(watches.map(({ day, end }) => ({ day, end })));
  const steps = aalenJohansen(tally);
  const ifSettled = aalenJohansen(
    tallyOf(
      watches.map(({ day, end, silent }) => (silent ? { day: nextLook(day + 1), end: 0 } : { day, end })),
    ),
  );
  const ifNever = aalenJohansen(
    tallyOf(watches.map(({ day, end, silent }) => ({ day: silent ? 30 : day, end }))),
  );
  const shown = LOOK_DAYS.map((day): AdaptStep => {
    const atRisk = watches.filter((watch) => watch.day >= day).length;
    const step = stepOn(steps, day);
    const settled = step?.shares[0] ?? 0;
    const back = step?.shares[1] ?? 0;
    return {
      day,
      atRisk,
      settled,
      settledInterval: intervalOf(settled, step?.errors[0] ?? 0, atRisk),
      back,
      backInterval: intervalOf(back, step?.errors[1] ?? 0, atRisk),
      waiting: step?.waiting ?? 1,
      ifSilentSettled: stepOn(ifSettled, day)?.shares[0] ?? 0,
      ifSilentDidNot: stepOn(ifNever, day)?.shares[0] ?? 0,
    };
  });
  const lostBefore = (look: LookDay): boolean => watches.some(({ day, end }) => end === null && day < look);
  const cut = shown.filter(({ day, atRisk }) => atRisk >= FEWEST_WATCHED || (atRisk > 0 && !lostBefore(day)));
  const median = cut.find(({ settled }) => settled >= 0.5 - 1e-12)?.day ?? null;
  const anyEnd = kaplanMeier(tally.map((row) => ({ ...row, ends: [row.allEnds] })));
  const settledIds = handedOver.flatMap(({ pairId }, at) => (watches[at]!.end === 0 ? [pairId] : []));
  const silent = watches.filter((watch) => watch.silent).length;
  const last = cut.at(-1);
  return {
    group,
    steps: cut,
    median,
    medianWords: medianInWords(median),
    medianAnyEnd: medianDay(anyEnd),
    meanDaysToDay30: watches.some(({ day }) => day > 0) ? restrictedMeanDays(anyEnd, 30) : null,
    silent,
    sentence:
      last === undefined
        ? `${group}: too few to say (${watches.length} pairs).`
        : `${group}: ${medianInWords(median)}; by day ${last.day} ${percent(last.settled)} % settled (${percentRange(last.settledInterval)}), ${percent(last.back)} % back; ${watches.length} pairs, ${silent} fell silent.`,
    trace: {
      method: 'Aalen-Johansen by look, ends: settled, back; log-log 95 %',
      x: settledIds.length,
      n: watches.length,
      ...(last === undefined ? {} : { interval: last.settledInterval }),
      pairIds: settledIds,
      amongPairIds: handedOver.map(({ pairId }) => pairId),
    },
  };
}

function medianInWords(median: LookDay | null): string {
  if (median === null) return 'half settled: not reached';
  const before = LOOK_DAYS[LOOK_DAYS.indexOf(median) - 1] ?? 0;
  return `half had settled by day ${median} (some time after day ${before})`;
}

const intervalOf = (share: number, error: number, atRisk: number): Interval =>
  share === 0 ? wilson(0, atRisk) : shareInterval(share, error);

export type AdaptWatch = {
  /** The look on which the watch ended; 0 when no answer ever came. */
  readonly day: number;
  /** 0 settled, 1 back, null lost from sight. */
  readonly end: 0 | 1 | null;
  /** A look was asked and not answered, and no end is known. */
  readonly silent: boolean;
};

/** One pair's course on the days of the looks. */
export function watchOf(pair: FinishedPair, today: number): AdaptWatch {
  const start = pair.firstWornDay ?? pair.handedOverDay;
  const endedAfter =
    pair.endedDay === undefined || pair.endedDay > today ? null : Math.max(0, pair.endedDay - start);
  const lookSettled = LOOK_DAYS.find((day) => pair.looks[day] === 'settled');
  const back =
    pair.outcome === 'remade in the same design' ||
    pair.outcome === 'exchanged' ||
    pair.outcome === 'refunded';
  if (
    back &&
    endedAfter !== null &&
    endedAfter <= 30 &&
    (lookSettled === undefined || endedAfter <= lookSettled)
  ) {
    return { day: nextLook(endedAfter), end: 1, silent: false };
  }
  const told = pair.outcome === 'settled' || pair.outcome === 'settled after adjusting';
  const settledOn =
    lookSettled ?? (told && endedAfter !== null && endedAfter <= 30 ? nextLook(endedAfter) : undefined);
  if (settledOn !== undefined) return { day: settledOn, end: 0, silent: false };
  const lastAnswer = LOOK_DAYS.filter((day) => pair.looks[day] === 'not yet').at(-1) ?? 0;
  const silent = LOOK_DAYS.some((day) => day > lastAnswer && pair.looks[day] === 'silent');
  return { day: lastAnswer, end: null, silent };
}

const nextLook = (day: number): LookDay => LOOK_DAYS.find((look) => look >= day) ?? 30;

function tallyOf(watches: readonly { readonly day: number; readonly end: 0 | 1 | null }[]): DayTally[] {
  return tallyByDay(
    watches.map(({ day }) => day),
    watches.map(({ end }) => end),
    2,
  );
}

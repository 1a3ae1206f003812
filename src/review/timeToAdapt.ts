import { aalenJohansen, shareInterval } from './aalenJohansen.ts';
import { inColumns, type PairColumns, type PairsGiven, wayBackOf } from './columns.ts';
import { kaplanMeier, type MedianDay, medianDay, restrictedMeanDays, stepOn } from './kaplanMeier.ts';
import { type Interval, wilson } from './oneRate.ts';
import { type FinishedPair, type Grouping, LOOK_DAYS, type LookDay, PERSON_GROUPINGS } from './pairs.ts';
import { type Behind, countedTrace, type Trace } from './trace.ts';
import { FEWEST_RIPE } from './verdicts.ts';
import type { DayTally } from './watched.ts';
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
export function timeToAdapt(pairs: PairsGiven, by: Grouping, today: number): TimeToAdapt[] {
  const columns = inColumns(pairs);
  const { names, codes } = columns.groups(by);
  const people = PERSON_GROUPINGS.has(by);
  const courses = coursesOf(columns, today);
  return countCourses(courses, codes, names.length)
    .flatMap((counts, code) =>
      counts.pairs === 0 || (people && counts.all < FEWEST_RIPE)
        ? []
        : [adaptationOf(names[code]!, counts, columns, courses, (at) => codes[at] === code)],
    )
    .sort((a, b) => (people ? 0 : b.trace.n - a.trace.n) || (a.group < b.group ? -1 : 1));
}

/** The same for all pairs given, under one name. */
export function adaptation(group: string, pairs: PairsGiven, today: number): TimeToAdapt {
  const columns = inColumns(pairs);
  const courses = coursesOf(columns, today);
  const [counts] = countCourses(courses, new Int32Array(columns.count), 1);
  return adaptationOf(group, counts!, columns, courses, () => true);
}

/** The same for the pairs at some positions of the columns. */
export function adaptationOfSome(
  group: string,
  columns: PairColumns,
  some: Int32Array,
  today: number,
): TimeToAdapt {
  const isOne = new Int32Array(columns.count);
  for (const at of some) isOne[at] = 1;
  const courses = coursesOf(columns, today);
  const [, counts] = countCourses(courses, isOne, 2);
  return adaptationOf(group, counts!, columns, courses, (at) => isOne[at] === 1);
}

/** Watches of a group by day, end and silence: a big shop has thousands of pairs and two dozen kinds of course. */
type CourseCounts = { readonly counts: Int32Array; pairs: number; all: number };

/** A pair's course in one number: day of the look (four), end (three), silent or not; 255: not handed over yet. */
const ENDS = 3;
const COURSES = (LOOK_DAYS.length + 1) * ENDS * 2;
const NOT_YET = 255;
const DAYS = [0, ...LOOK_DAYS] as const;
const LOST = 2;

function courseOf({ day, end, silent }: AdaptWatch): number {
  const look = day === 0 ? 0 : LOOK_DAYS.indexOf(day as LookDay) + 1;
  return (look * ENDS + (end ?? LOST)) * 2 + (silent ? 1 : 0);
}

function coursesOf(columns: PairColumns, today: number): Uint8Array {
  const courses = new Uint8Array(columns.count);
  for (let at = 0; at < courses.length; at += 1)
    courses[at] = columns.handedOverDay[at]! > today ? NOT_YET : courseOf(watchAt(columns, at, today));
  return courses;
}

function countCourses(courses: Uint8Array, codes: Int32Array, groups: number): CourseCounts[] {
  const found = Array.from({ length: groups }, () => ({ counts: new Int32Array(COURSES), pairs: 0, all: 0 }));
  for (let at = 0; at < courses.length; at += 1) {
    const group = found[codes[at]!]!;
    group.all += 1;
    if (courses[at] === NOT_YET) continue;
    group.pairs += 1;
    group.counts[courses[at]!]! += 1;
  }
  return found;
}

function adaptationOf(
  group: string,
  { counts, pairs }: CourseCounts,
  columns: PairColumns,
  courses: Uint8Array,
  belongs: (at: number) => boolean,
): TimeToAdapt {
  const watches: { day: number; end: 0 | 1 | null; silent: boolean; count: number }[] = [];
  counts.forEach((count, course) => {
    if (count === 0) return;
    const end = (course >> 1) % ENDS;
    const day = DAYS[Math.floor((course >> 1) / ENDS)]!;
    watches.push({ day, end: end === LOST ? null : (end as 0 | 1), silent: (course & 1) === 1, count });
  });
  const tally = tallyOf(watches);
  const steps = aalenJohansen(tally);
  const ifSettled = aalenJohansen(
    tallyOf(
      watches.map(({ day, end, silent, count }) =>
        silent ? { day: nextLook(day + 1), end: 0, count } : { day, end, count },
      ),
    ),
  );
  const ifNever = aalenJohansen(
    tallyOf(watches.map(({ day, end, silent, count }) => ({ day: silent ? 30 : day, end, count }))),
  );
  const howMany = (holds: (watch: (typeof watches)[number]) => boolean): number =>
    watches.reduce((sum, watch) => sum + (holds(watch) ? watch.count : 0), 0);
  const shown = LOOK_DAYS.map((day): AdaptStep => {
    const atRisk = howMany((watch) => watch.day >= day);
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
  const allSettled = howMany(({ end }) => end === 0);
  const silent = howMany((watch) => watch.silent);
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
        ? `${group}: too few to say (${pairs} pairs).`
        : `${group}: ${medianInWords(median)}; by day ${last.day} ${percent(last.settled)} % settled (${percentRange(last.settledInterval)}), ${percent(last.back)} % back; ${pairs} pairs, ${silent} fell silent.`,
    trace: countedTrace(
      'Aalen-Johansen by look, ends: settled, back; log-log 95 %',
      behind(allSettled, columns, (at) => belongs(at) && IS_SETTLED[courses[at]!] === 1),
      behind(pairs, columns, (at) => belongs(at) && courses[at] !== NOT_YET),
      last?.settledInterval,
    ),
  };
}

/** By course: 1 for those that ended settled. */
const IS_SETTLED = Uint8Array.from({ length: 256 }, (_, course) =>
  course < COURSES && (course >> 1) % ENDS === 0 ? 1 : 0,
);

function behind(count: number, { count: all, pairId }: PairColumns, holds: (at: number) => boolean): Behind {
  return {
    count,
    ids: () => Array.from({ length: all }, (_, at) => at).flatMap((at) => (holds(at) ? [pairId(at)] : [])),
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
export const watchOf = (pair: FinishedPair, today: number): AdaptWatch =>
  watchAt(inColumns([pair]), 0, today);

/** By the code of the looks: the first settled one, the last that was answered "not yet", and whether silence came after it. */
const OF_LOOKS = Array.from({ length: 64 }, (_, code) => {
  const stateOn = (look: number): number => (code >> (2 * look)) & 3;
  const settledOn = LOOK_DAYS.find((_, look) => stateOn(look) === 3);
  const lastAnswer = LOOK_DAYS.filter((_, look) => stateOn(look) === 2).at(-1) ?? 0;
  const silent = LOOK_DAYS.some((day, look) => day > lastAnswer && stateOn(look) === 1);
  return { settledOn, lastAnswer, silent };
});

/** The course of the pair at a position in the columns. */
export function watchAt(columns: PairColumns, at: number, today: number): AdaptWatch {
  const { settledOn: lookSettled, lastAnswer, silent } = OF_LOOKS[columns.looks[at]!]!;
  const ended = columns.endedDay[at]!;
  const endedAfter = ended > today ? null : Math.max(0, ended - columns.firstWornDay[at]!);
  const outcome = columns.outcome[at]!;
  if (
    wayBackOf(outcome) >= 0 &&
    endedAfter !== null &&
    endedAfter <= 30 &&
    (lookSettled === undefined || endedAfter <= lookSettled)
  ) {
    return { day: nextLook(endedAfter), end: 1, silent: false };
  }
  const told = outcome === 0 || outcome === 1;
  const settledOn =
    lookSettled ?? (told && endedAfter !== null && endedAfter <= 30 ? nextLook(endedAfter) : undefined);
  if (settledOn !== undefined) return { day: settledOn, end: 0, silent: false };
  return { day: lastAnswer, end: null, silent };
}

const nextLook = (day: number): LookDay => LOOK_DAYS.find((look) => look >= day) ?? 30;

/** Ends come before losses on the same day. */
function tallyOf(
  watches: readonly { readonly day: number; readonly end: 0 | 1 | null; readonly count: number }[],
): DayTally[] {
  let atRisk = watches.reduce((sum, { count }) => sum + count, 0);
  const tally: DayTally[] = [];
  for (const day of DAYS) {
    const ends = [0, 0];
    let lost = 0;
    let seen = false;
    for (const watch of watches) {
      if (watch.day !== day) continue;
      seen = true;
      if (watch.end === null) lost += watch.count;
      else ends[watch.end]! += watch.count;
    }
    if (!seen) continue;
    const allEnds = ends[0]! + ends[1]!;
    tally.push({ day, atRisk, ends, allEnds });
    atRisk -= allEnds + lost;
  }
  return tally;
}

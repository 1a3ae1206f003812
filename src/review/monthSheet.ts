import { drift } from './drift.ts';
import { adjustHolm } from './manyLooks.ts';
import { type Interval, wilson } from './oneRate.ts';
import { ownBias } from './ownBias.ts';
import { type FinishedPair, GROUPINGS, type Grouping, PERSON_GROUPINGS } from './pairs.ts';
import { ratesBy } from './remakeRates.ts';
import { type PairsInColumns, pairsInColumns, type RateSettings, RIPE_AFTER_DAYS } from './ripePairs.ts';
import type { Trace } from './trace.ts';
import { countInWords } from './words.ts';

type MonthSentence = {
  readonly sentence: string;
  readonly value: number;
  readonly interval: Interval;
  /** What keeps luck off the sheet, for this sentence. */
  readonly guard: string;
  readonly trace: Trace;
};

export type MonthSheet = {
  /** At most five, strongest first. */
  readonly sentences: readonly MonthSentence[];
  /** Stands alone when there is no sentence. */
  readonly otherwise: string | null;
  /** How many things were looked at, and the guard. */
  readonly looks: string;
};

export const NOTHING_MORE_THAN_LUCK = 'nothing this month is more than luck';
const MOST_SENTENCES = 5;
/** Pairs older than this say little of how the shop works now. Our own choice. */
const LOOK_BACK_DAYS = 365;

type Candidate = Omit<MonthSentence, 'guard'> & { readonly p: number };

/** Of the one sheet in twenty that luck may fill, a fifth is left to the drift line and the rest to the comparisons. */
const DRIFT_SHARE = 0.01;
const COMPARISON_SHARE = 0.04;
const MONTH_DAYS = 31;

/**
 * What the owner should know this month. Everything that the review compares is looked at: groups of ripe pairs of the
 * last year against the rest and our own measuring bias, all p values adjusted by Holm together and said at 0.04 or
 * below; and the drift line. With nothing wrong at all, about one sheet in twenty says something. People are not named
 * on a sheet that may hang on a wall.
 */
export function monthSheet(pairs: readonly FinishedPair[], settings: RateSettings): MonthSheet {
  const ripeAfterDays = settings.ripeAfterDays ?? RIPE_AFTER_DAYS;
  const recent = pairs.filter(
    ({ handedOverDay }) =>
      handedOverDay > settings.today - LOOK_BACK_DAYS - ripeAfterDays && handedOverDay <= settings.today,
  );
  const columns = pairsInColumns(recent, settings);
  const candidates = [
    ...GROUPINGS.filter((by) => !PERSON_GROUPINGS.has(by)).flatMap((by) => groupCandidates(columns, by)),
    ...biasCandidates(recent),
  ];
  const holm = adjustHolm(candidates.map(({ p }) => p));
  const compared = candidates
    .map((candidate, at) => ({ candidate, pHolm: holm[at]! }))
    .filter(({ pHolm }) => pHolm <= COMPARISON_SHARE)
    .sort((a, b) => a.candidate.p - b.candidate.p)
    .map(
      ({ candidate: { p: _, ...rest }, pHolm }): MonthSentence => ({
        ...rest,
        guard: `p ${pHolm < 0.001 ? 'below 0.001' : pHolm.toFixed(3)} after Holm over ${candidates.length} looks`,
      }),
    );
  const sentences = withoutRepeats([...driftSentences(pairs, settings, ripeAfterDays), ...compared]).slice(
    0,
    MOST_SENTENCES,
  );
  return {
    sentences,
    otherwise: sentences.length === 0 ? NOTHING_MORE_THAN_LUCK : null,
    looks: `${candidates.length} comparisons and the drift line looked at; Holm; with nothing wrong, about one sheet in twenty would say something.`,
  };
}

function groupCandidates(columns: PairsInColumns, by: Grouping): Candidate[] {
  return ratesBy(columns, by).groups.flatMap(({ p, rate, sentence, verdict }) =>
    p === null || verdict === 'too few to say'
      ? []
      : [
          {
            sentence: `${GROUPING_WORDS[by]} ${sentence}`,
            value: rate.value,
            interval: rate.trace.interval!,
            p,
            trace: rate.trace,
          },
        ],
  );
}

const GROUPING_WORDS: Readonly<Record<Grouping, string>> = {
  design: 'Design',
  material: 'Material',
  lightReactiveGrade: 'Light-reactive grade',
  wrapClass: 'Wrap',
  depthClass: 'Depth',
  addBand: 'Add',
  firstWearer: 'Wearers:',
  measuredBy: 'Measured by',
  measuredHow: 'Measured by way of',
  soldBy: 'Sold by',
  lab: 'Lab',
  month: 'Handed over in',
};

function biasCandidates(pairs: readonly FinishedPair[]): Candidate[] {
  return ownBias(pairs, 'measuredHow').map(({ sentence, meanMm, interval, p, trace }) => ({
    sentence: `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`,
    value: meanMm,
    interval,
    p,
    trace,
  }));
}

/** A crossing of the drift line, upwards, in the last 31 days; the line is set so high that luck crosses it in 1 of 100. */
function driftSentences(
  pairs: readonly FinishedPair[],
  settings: RateSettings,
  ripeAfterDays: number,
): MonthSentence[] {
  const from = settings.today - MONTH_DAYS;
  const ripened = pairs.filter(
    ({ handedOverDay }) =>
      handedOverDay + ripeAfterDays > from && handedOverDay + ripeAfterDays <= settings.today,
  );
  if (ripened.length === 0) return [];
  const found = drift(pairs, {
    ...settings,
    ripeAfterDays,
    pairsBetweenFalseAlarms: Math.max(1500, ripened.length / DRIFT_SHARE),
  });
  if (found.kind === 'too few') return [];
  if (!found.alarms.some(({ onDay }) => onDay > from)) return [];
  const month = found.points.filter(({ ripeOnDay }) => ripeOnDay > from);
  const back = month.filter((point) => point.back);
  const interval = wilson(back.length, month.length);
  return [
    {
      sentence:
        `More pairs come back than at the baseline: ${countInWords(back.length, month.length, interval)} of those that ripened in ` +
        `${MONTH_DAYS} days. ${found.caption}`,
      value: back.length / month.length,
      interval,
      guard: 'drift line that luck crosses in 1 month of 100',
      trace: {
        method: 'log-likelihood-ratio sum against the baseline; count of the month, Wilson 95 %',
        x: back.length,
        n: month.length,
        interval,
        pairIds: back.map(({ pairId }) => pairId),
        amongPairIds: month.map(({ pairId }) => pairId),
      },
    },
  ];
}

/** A lab that makes one design only gives the same pairs twice: the first sentence stands for both. */
function withoutRepeats(sentences: readonly MonthSentence[]): MonthSentence[] {
  const seen = new Set<string>();
  return sentences.filter(({ trace }) => {
    const key = `${trace.n} ${[...trace.pairIds].sort().join(' ')}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

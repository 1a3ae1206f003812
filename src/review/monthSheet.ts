import { inColumns, type PairColumns, type PairsGiven } from './columns.ts';
import { drift } from './drift.ts';
import { fisherExact } from './fisherExact.ts';
import { adjustHolm } from './manyLooks.ts';
import { type Interval, wilson } from './oneRate.ts';
import { ownBias } from './ownBias.ts';
import { GROUPINGS, type Grouping, PERSON_GROUPINGS } from './pairs.ts';
import { judgedGroups } from './remakeRates.ts';
import { type PairsInColumns, pairsInColumns, type RateSettings, RIPE_AFTER_DAYS } from './ripePairs.ts';
import type { Trace } from './trace.ts';
import { FEWEST_RIPE } from './verdicts.ts';
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

type Candidate = Omit<MonthSentence, 'guard'> & {
  readonly p: number;
  /** The group that is told of; absent where no rate is compared. */
  readonly group?: { readonly by: Grouping; readonly name: string; readonly worse: boolean };
};

/** Of the one sheet in twenty that luck may fill, a fifth is left to the drift line and the rest to the comparisons. */
const DRIFT_SHARE = 0.01;
const COMPARISON_SHARE = 0.04;
const MONTH_DAYS = 31;

/**
 * What the owner should know this month. Everything that the review compares is looked at: groups of ripe pairs of the
 * last year against the rest and our own measuring bias, all p values adjusted by Holm together and said at 0.04 or
 * below; and the drift line. With nothing wrong at all, about one sheet in twenty says something. A group is told of
 * only when it stands out without the pairs that were told of before it: one bad design is not told again as its lab,
 * its material, or as all others doing better. People are not named on a sheet that may hang on a wall.
 */
export function monthSheet(pairs: PairsGiven, settings: RateSettings): MonthSheet {
  const all = inColumns(pairs);
  const ripeAfterDays = settings.ripeAfterDays ?? RIPE_AFTER_DAYS;
  const handedOverAfter = settings.today - LOOK_BACK_DAYS - ripeAfterDays;
  const columns = pairsInColumns(all, { ...settings, handedOverAfter });
  const candidates = [
    ...GROUPINGS.filter((by) => !PERSON_GROUPINGS.has(by)).flatMap((by) => groupCandidates(columns, by)),
    ...biasCandidates(all, handedOverAfter),
  ];
  const holm = adjustHolm(candidates.map(({ p }) => p));
  const compared = candidates
    .map((candidate, at) => ({ candidate, pHolm: holm[at]! }))
    .filter(({ pHolm }) => pHolm <= COMPARISON_SHARE)
    // Two groups that share all pairs are one comparison: the worse of them is told of.
    .sort((a, b) => sameP(a.candidate.p) - sameP(b.candidate.p) || rank(a.candidate) - rank(b.candidate));
  const told = withoutRepeats(columns, compared).map(
    ({ candidate: { p: _, group: __, ...rest }, pHolm }): MonthSentence => ({
      ...rest,
      guard: `p ${pHolm < 0.001 ? 'below 0.001' : pHolm.toFixed(3)} after Holm over ${candidates.length} looks`,
    }),
  );
  const sentences = [...driftSentences(all, settings, ripeAfterDays), ...told].slice(0, MOST_SENTENCES);
  return {
    sentences,
    otherwise: sentences.length === 0 ? NOTHING_MORE_THAN_LUCK : null,
    looks: `${candidates.length} comparisons and the drift line looked at; Holm; with nothing wrong, about one sheet in twenty would say something.`,
  };
}

/** A comparison read from its other side differs in the last digits only. */
const sameP = (p: number): number => Number(p.toPrecision(9));
const rank = ({ group }: Candidate): number => (group === undefined || group.worse ? 0 : 1);

function groupCandidates(columns: PairsInColumns, by: Grouping): Candidate[] {
  return judgedGroups(columns, by).judged.flatMap(({ one, group, rest, rate, judgement, sentence }) =>
    judgement.p === null
      ? []
      : [
          {
            sentence: `${GROUPING_WORDS[by]} ${sentence}`,
            value: rate.value,
            interval: rate.trace.interval!,
            p: judgement.p,
            trace: rate.trace,
            group: { by, name: one.name, worse: group.events / group.n > rest.events / rest.n },
          },
        ],
  );
}

type Compared = { readonly candidate: Candidate; readonly pHolm: number };

/** Left with so little of its difference once told pairs are set aside, a group only says again what was said. */
const STANDS_ALONE = 0.05;

function withoutRepeats(columns: PairsInColumns, compared: readonly Compared[]): Compared[] {
  const told = new Uint8Array(columns.columns.count);
  return compared.filter(({ candidate: { group } }) => {
    if (group === undefined) return true;
    if (repeats(columns, group, told)) return false;
    const { names, codes } = columns.columns.groups(group.by);
    const code = names.indexOf(group.name);
    for (let at = 0; at < told.length; at += 1) if (codes[at] === code) told[at] = 1;
    return true;
  });
}

function repeats(
  { columns, ripe, back }: PairsInColumns,
  { by, name, worse }: NonNullable<Candidate['group']>,
  told: Uint8Array,
): boolean {
  const { names, codes } = columns.groups(by);
  const code = names.indexOf(name);
  const n = [0, 0];
  const events = [0, 0];
  for (let at = 0; at < told.length; at += 1) {
    if (told[at] === 1 || ripe[at] === 0) continue;
    const side = codes[at] === code ? 0 : 1;
    n[side]! += 1;
    events[side]! += back[at]!;
  }
  if (n.some((count) => count < FEWEST_RIPE)) return true;
  const { midPGreater, midPLess } = fisherExact(events[0]!, n[0]!, events[1]!, n[1]!);
  return (worse ? midPGreater : midPLess) > STANDS_ALONE;
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

function biasCandidates(pairs: PairColumns, handedOverAfter: number): Candidate[] {
  return ownBias(pairs, 'measuredHow', handedOverAfter).map(({ sentence, meanMm, interval, p, trace }) => ({
    sentence: `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`,
    value: meanMm,
    interval,
    p,
    trace,
  }));
}

/** A crossing of the drift line, upwards, in the last 31 days; the line is set so high that luck crosses it in 1 of 100. */
function driftSentences(pairs: PairColumns, settings: RateSettings, ripeAfterDays: number): MonthSentence[] {
  const from = settings.today - MONTH_DAYS;
  let ripened = 0;
  for (const day of pairs.handedOverDay)
    if (day + ripeAfterDays > from && day + ripeAfterDays <= settings.today) ripened += 1;
  if (ripened === 0) return [];
  const found = drift(pairs, {
    ...settings,
    ripeAfterDays,
    pairsBetweenFalseAlarms: Math.max(1500, ripened / DRIFT_SHARE),
  });
  if (found.kind === 'too few') return [];
  if (!found.alarms.some(({ onDay }) => onDay > from)) return [];
  const month = Array.from({ length: Math.min(ripened, found.followed.count) }, (_, k) =>
    found.followed.point(found.followed.count - 1 - k),
  ).reverse();
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

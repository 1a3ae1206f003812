import { inColumns, notedPairs, type PairsGiven } from './columns.ts';
import { adjustHolm } from './manyLooks.ts';
import type { Interval } from './oneRate.ts';
import { type FinishedPair, groupOf, type ReMeasured } from './pairs.ts';
import { type MeanOf, meanWithInterval } from './tDistribution.ts';
import type { Trace } from './trace.ts';
import { FEWEST_RIPE } from './verdicts.ts';
import { pairsInWords } from './words.ts';

export type BiasBy = 'measuredBy' | 'measuredHow';

export type OwnBias = {
  readonly what: ReMeasured['what'];
  readonly by: BiasBy;
  readonly group: string;
  /** Re-measured less ordered, mm: above 0 the ordered figures run low. */
  readonly meanMm: number;
  readonly spreadMm: number;
  readonly interval: Interval;
  readonly n: number;
  readonly p: number;
  readonly pHolm: number;
  readonly sentence: string;
  /** Offer to warn when such a job is ordered: beyond luck over all groups looked at, and large enough to matter. */
  readonly offerWarning: string | null;
  readonly trace: Trace;
};

/** Fewer re-measured pairs than this say nothing. Our own choice. */
const FEWEST_PAIRS = 8;
/** A lean smaller than this is not worth a warning at order. Our own choice, half of the 1 mm that height is held to. */
const SMALLEST_LEAN_MM = 0.5;

/** What rounding alone gives when heights are read to half a millimetre: 0.5/√12. Our own choice. */
const ROUNDING_SD_MM = 0.144;

/** Said beside every such number. */
export const RE_MEASURED_ARE_NOT_ALL =
  'Mostly pairs in trouble are measured again, so the lean of all our measurements is likely smaller than this.';

/**
 * Our own measuring bias: re-measured less ordered fitting height and monocular PD, by who measured or by how. The unit
 * is a pair (both eyes averaged); mean and interval by Student's t; p adjusted by Holm over all groups looked at. People
 * with under 20 pairs are not shown. Pairs handed over on or before `handedOverAfter` are left out.
 */
export function ownBias(
  given: PairsGiven,
  by: BiasBy,
  handedOverAfter = Number.NEGATIVE_INFINITY,
): OwnBias[] {
  const pairs = notedPairs(inColumns(given)).filter(({ handedOverDay }) => handedOverDay > handedOverAfter);
  const fewest = by === 'measuredBy' ? FEWEST_RIPE : FEWEST_PAIRS;
  const found = (['fitting height', 'monocular PD'] as const).flatMap((what) =>
    [...differencesByGroup(pairs, what, by)].flatMap(([group, differences]) => {
      const mean =
        differences.length < fewest
          ? null
          : meanWithInterval(
              differences.map(({ mm }) => mm),
              0.95,
              ROUNDING_SD_MM,
            );
      return mean === null ? [] : [{ what, group, differences, mean }];
    }),
  );
  const holm = adjustHolm(found.map(({ mean }) => mean.p));
  return found
    .map(({ what, group, differences, mean }, at): OwnBias => {
      const sentence = biasSentence(what, by, group, mean);
      const pairIds = differences.map(({ pairId }) => pairId);
      // A way of measuring is warned of at the order; of a person's lean one speaks with the person.
      const matters = by === 'measuredHow' && holm[at]! <= 0.05 && Math.abs(mean.mean) >= SMALLEST_LEAN_MM;
      return {
        what,
        by,
        group,
        meanMm: mean.mean,
        spreadMm: mean.sd,
        interval: mean.interval,
        n: mean.n,
        p: mean.p,
        pHolm: holm[at]!,
        sentence,
        offerWarning: matters
          ? `Warn at order when a job is measured like this (${group}): check the ${what} again, it has run ${Math.abs(mean.mean).toFixed(1)} mm ${mean.mean > 0 ? 'low' : 'high'}.`
          : null,
        trace: {
          method: `re-measured less ordered ${what}, mm, mean of a pair's eyes; Student's t 95 %`,
          n: mean.n,
          interval: mean.interval,
          pairIds,
          amongPairIds: pairIds,
        },
      };
    })
    .sort((a, b) => (a.what === b.what ? 0 : a.what < b.what ? -1 : 1) || (a.group < b.group ? -1 : 1));
}

function differencesByGroup(
  pairs: readonly FinishedPair[],
  what: ReMeasured['what'],
  by: BiasBy,
): Map<string, { pairId: string; mm: number }[]> {
  const groups = new Map<string, { pairId: string; mm: number }[]>();
  for (const pair of pairs) {
    const eyes = (pair.reMeasured ?? []).filter((one) => one.what === what);
    if (eyes.length === 0) continue;
    const mm = eyes.reduce((sum, eye) => sum + eye.reMeasuredMm - eye.orderedMm, 0) / eyes.length;
    const group = groups.get(groupOf(pair, by)) ?? [];
    group.push({ pairId: pair.pairId, mm });
    groups.set(groupOf(pair, by), group);
  }
  return groups;
}

function biasSentence(
  what: ReMeasured['what'],
  by: BiasBy,
  group: string,
  { mean, interval, n }: MeanOf,
): string {
  const noun = what === 'fitting height' ? 'heights' : 'PDs';
  const whose = by === 'measuredHow' ? `our ${group} ${noun}` : `${noun} measured by ${group}`;
  const flip = mean >= 0 ? 1 : -1;
  const low = Math.min(flip * interval.low, flip * interval.high);
  const high = Math.max(flip * interval.low, flip * interval.high);
  if (low <= 0) {
    return `${whose} show no lean beyond luck: ${mean.toFixed(1)} mm (${interval.low.toFixed(1)} to ${interval.high.toFixed(1)}, ${pairsInWords(n)})`;
  }
  return `${whose} run ${Math.abs(mean).toFixed(1)} mm ${mean > 0 ? 'low' : 'high'} (${low.toFixed(1)} to ${high.toFixed(1)}, ${pairsInWords(n)})`;
}

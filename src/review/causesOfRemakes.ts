import { inColumns, notedPairs, type PairsGiven } from './columns.ts';
import { wilson } from './oneRate.ts';
import { cameBack, type FinishedPair, REASONS, type Reason, SETTLING_REASONS } from './pairs.ts';
import type { Figure } from './trace.ts';
import { countInWords } from './words.ts';

type ReasonShare = Figure & { readonly reason: Reason | 'not recorded'; readonly sentence: string };
type CauseShare = Figure & { readonly cause: string; readonly sentence: string };

export type CausesOfRemakes = {
  readonly settlingType: readonly ReasonShare[];
  readonly allReasons: readonly ReasonShare[];
  /** Causes that were made sure of, at the bench or by the cure; largest first. */
  readonly foundCauses: readonly CauseShare[];
};

/**
 * Why pairs came back: by recorded reason, once among settling-type reasons and once among all, and by the cause that
 * was made sure of. Shares of the pairs back, with Wilson intervals.
 */
export function causesOfRemakes(pairs: PairsGiven, today: number): CausesOfRemakes {
  const back = notedPairs(inColumns(pairs)).filter((pair) => cameBack(pair, 'all reasons', today) !== null);
  const settling = back.filter(({ reason }) => reason !== undefined && SETTLING_REASONS.has(reason));
  const known = back.filter(
    ({ causeFound, causeFoundHow }) => causeFound !== undefined && causeFoundHow !== 'said',
  );
  return {
    settlingType: byReason(settling, 'settling-type reasons'),
    allReasons: byReason(back, 'all reasons'),
    foundCauses: shares(known, (pair) => pair.causeFound!, 'causes made sure of among pairs back').map(
      ({ name, ...rest }) => ({ cause: name, ...rest }),
    ),
  };
}

function byReason(back: readonly FinishedPair[], which: string): ReasonShare[] {
  const order: readonly string[] = [...REASONS, 'not recorded'];
  return shares(back, (pair) => pair.reason ?? 'not recorded', `reasons of pairs back, ${which}`)
    .map(({ name, ...rest }) => ({ reason: name as Reason | 'not recorded', ...rest }))
    .sort((a, b) => b.trace.x! - a.trace.x! || order.indexOf(a.reason) - order.indexOf(b.reason));
}

function shares(
  pairs: readonly FinishedPair[],
  nameOf: (pair: FinishedPair) => string,
  method: string,
): (Figure & { name: string; sentence: string })[] {
  const groups = new Map<string, string[]>();
  for (const pair of pairs) {
    const name = nameOf(pair);
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [pair.pairId]);
    else group.push(pair.pairId);
  }
  const among = pairs.map(({ pairId }) => pairId);
  return [...groups]
    .map(([name, pairIds]) => {
      const interval = wilson(pairIds.length, pairs.length);
      return {
        name,
        value: pairIds.length / pairs.length,
        sentence: `${name}: ${countInWords(pairIds.length, pairs.length, interval)}.`,
        trace: {
          method: `${method}; Wilson 95 %`,
          x: pairIds.length,
          n: pairs.length,
          interval,
          pairIds,
          amongPairIds: among,
        },
      };
    })
    .sort((a, b) => b.trace.x - a.trace.x || (a.name < b.name ? -1 : 1));
}

import { inColumns, notedPairs, type PairsGiven } from './columns.ts';
import { wilson } from './oneRate.ts';
import type { FinishedPair } from './pairs.ts';
import type { Figure } from './trace.ts';
import { countInWords } from './words.ts';

type ShareBin = Figure & {
  readonly from: number;
  readonly to: number;
  readonly meanStated: number;
  readonly sentence: string;
};

export type SuggestionRight = {
  /** The leading cause was the one that was made sure of. */
  readonly causeRight: Figure;
  /** Staff did what was suggested. */
  readonly actKept: Figure;
  /** How often it was right by the share that stood beside it. */
  readonly byStatedShare: readonly ShareBin[];
  readonly sentences: readonly string[];
};

/** Fifths of the stated share: finer bins are mostly noise with a shop's counts. */
const BINS = 5;

/**
 * How often the suggestion was right, over pairs whose cause was found at the bench or cured by the act (what was only
 * said does not count), and how often staff took the suggested act. Such pairs are not a sample of all pairs: easy
 * ones settle before anyone looks.
 */
export function suggestionRight(given: PairsGiven): SuggestionRight {
  const pairs = notedPairs(inColumns(given));
  const known = pairs.filter(
    ({ causeSuggested, causeFound, causeFoundHow }) =>
      causeSuggested !== undefined &&
      causeFound !== undefined &&
      causeFoundHow !== undefined &&
      causeFoundHow !== 'said',
  );
  const isRight = (pair: FinishedPair): boolean => pair.causeSuggested === pair.causeFound;
  const acted = pairs.filter(
    ({ actSuggested, actTaken }) => actSuggested !== undefined && actTaken !== undefined,
  );
  const causeRight = share(known, isRight, 'leading cause equal to the cause made sure of');
  const actKept = share(
    acted,
    (pair) => pair.actSuggested === pair.actTaken,
    'act taken equal to the act suggested',
  );
  const byStatedShare: ShareBin[] = [];
  for (let bin = 1; bin <= BINS; bin += 1) {
    const from = (bin - 1) / BINS;
    const to = bin / BINS;
    const inside = known.filter(
      ({ causeSuggestedShare: stated }) =>
        stated !== undefined && stated <= to && (stated > from || bin === 1),
    );
    if (inside.length === 0) continue;
    const meanStated = inside.reduce((sum, pair) => sum + pair.causeSuggestedShare!, 0) / inside.length;
    const figure = share(
      inside,
      isRight,
      `leading cause right where the stated share was above ${from} up to ${to}`,
    );
    byStatedShare.push({
      ...figure,
      from,
      to,
      meanStated,
      sentence: `Where about ${Math.round(meanStated * 10)} in 10 was stated: right in ${inWords(figure)}.`,
    });
  }
  return {
    causeRight,
    actKept,
    byStatedShare,
    sentences: [
      `The leading cause was the right one in ${inWords(causeRight)} of the pairs whose cause was made sure of.`,
      `The suggested act was taken in ${inWords(actKept)}.`,
    ],
  };
}

const inWords = ({ trace }: Figure): string => countInWords(trace.x!, trace.n, trace.interval!);

function share(
  pairs: readonly FinishedPair[],
  holds: (pair: FinishedPair) => boolean,
  method: string,
): Figure {
  const held = pairs.filter(holds);
  return {
    value: pairs.length === 0 ? 0 : held.length / pairs.length,
    trace: {
      method: `${method}; Wilson 95 %`,
      x: held.length,
      n: pairs.length,
      interval: wilson(held.length, pairs.length),
      pairIds: held.map(({ pairId }) => pairId),
      amongPairIds: pairs.map(({ pairId }) => pairId),
    },
  };
}

import type { Label } from '../replies/types.ts';
import { CATALOGUE } from './catalogue/index.ts';
import type { Act, Cause } from './catalogue/types.ts';
import type { Contribution } from './contribution.ts';
import type { JobFacts } from './jobFacts.ts';
import { type Scored, type StartingWeights, scoreCauses } from './scored.ts';

export type RankedCause = {
  readonly cause: Cause;
  readonly share: number;
  readonly contributions: readonly Contribution[];
  /** The acts that can cure it, best first, as far as the facts allow them. */
  readonly acts: readonly Act[];
};

/**
 * The share of each cause, given what the wearer said and what is known of the job, largest first.
 *
 * Log odds: ln share = ln starting weight + sum over groups of facts of (strongest + 1/4 of each other). A fact that is
 * unknown says nothing. A label is worth (share of the cause among wearers who say it) / (share among all). Shares sum
 * to one, and "something else" never falls under 2 in 100 (common practice, no source).
 */
export const rankCauses = (
  labels: readonly Label[],
  facts: JobFacts,
  startingWeights: StartingWeights = {},
): readonly RankedCause[] => rankingOf(scoreCauses(labels, facts, startingWeights));

/** The ranking of what was scored. */
export const rankingOf = ({ contributions, logOdds, acts }: Scored): readonly RankedCause[] => {
  const shares = sharesOf(logOdds);
  return placesByShare(shares).map((place) => ({
    cause: CATALOGUE[place] as Cause,
    share: shares[place] as number,
    contributions: contributions[place] as readonly Contribution[],
    acts: acts[place] as readonly Act[],
  }));
};

/** The places of the catalogue, largest share first; of equal shares the earlier stands first. */
const placesByShare = (shares: readonly number[]): readonly number[] => {
  const places: number[] = [];
  for (let i = 0; i < shares.length; i += 1) {
    const own = shares[i] as number;
    let at = i;
    for (; at > 0 && (shares[places[at - 1] as number] as number) < own; at -= 1)
      places[at] = places[at - 1] as number;
    places[at] = i;
  }
  return places;
};

/** Shares from log odds, summing to one, with the floor of "something else" kept. */
export const sharesOf = (logOdds: readonly number[]): readonly number[] => {
  let top = Number.NEGATIVE_INFINITY;
  for (const value of logOdds) if (value > top) top = value;
  const odds: number[] = [];
  let total = 0;
  for (const value of logOdds) {
    const one = Math.exp(value - top);
    odds.push(one);
    total += one;
  }
  for (let i = 0; i < odds.length; i += 1) odds[i] = (odds[i] as number) / total;
  return withFloor(odds);
};

/** How far down the share of "something else" may go. */
export const SOMETHING_ELSE_FLOOR = 0.02;
const unknownCause = CATALOGUE.length - 1;

const withFloor = (shares: readonly number[]): readonly number[] => {
  const rest = shares[unknownCause] as number;
  if (rest >= SOMETHING_ELSE_FLOOR) return shares;
  const scale = (1 - SOMETHING_ELSE_FLOOR) / (1 - rest);
  return shares.map((share, i) => (i === unknownCause ? SOMETHING_ELSE_FLOOR : share * scale));
};

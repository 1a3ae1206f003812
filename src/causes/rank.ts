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
  return CATALOGUE.map((cause, i) => ({
    cause,
    share: shares[i] as number,
    contributions: contributions[i] as readonly Contribution[],
    acts: acts[i] as readonly Act[],
  })).sort((a, b) => b.share - a.share);
};

/** Shares from log odds, summing to one, with the floor of "something else" kept. */
export const sharesOf = (logOdds: readonly number[]): readonly number[] => {
  const top = Math.max(...logOdds);
  const odds = logOdds.map((value) => Math.exp(value - top));
  const total = odds.reduce((sum, value) => sum + value, 0);
  return withFloor(odds.map((value) => value / total));
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

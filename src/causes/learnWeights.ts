import { CATALOGUE } from './catalogue/index.ts';
import type { StartingWeights } from './scored.ts';

/** A cause that a person marked as found at the bench, or as cured by the act. */
export type ConfirmedOutcome = {
  readonly caseId: string;
  readonly cause: string;
  readonly how: 'found at the bench' | 'cured by the act';
  /** Taken back by a person: it counts no more. */
  readonly withdrawn?: boolean;
};

type MovedWeight = {
  readonly cause: string;
  readonly from: number;
  readonly to: number;
  readonly cases: number;
};

export type LearnedWeights = {
  readonly weights: StartingWeights;
  /** Every weight that is not where the catalogue has it, most moved first. */
  readonly moved: readonly MovedWeight[];
  readonly casesCounted: number;
};

/** The catalogue's starting weights count as this many cases of the shop. Common practice, no source. */
export const PRIOR_WORTH_CASES = 100;

/**
 * Starting weights moved by the shop's own confirmed outcomes: weight = whole x (100 x p + n) / (100 + N), with p the
 * catalogue's share of the cause, n its confirmed cases and N all of them (mean of a Dirichlet posterior). Nothing is
 * kept here: withdraw an outcome and the weights are as if it had never been.
 */
export const learnWeights = (outcomes: readonly ConfirmedOutcome[]): LearnedWeights => {
  const counted = outcomes.filter(({ cause, withdrawn }) => !withdrawn && known.has(cause));
  const cases = new Map<string, number>();
  for (const { cause } of counted) cases.set(cause, (cases.get(cause) ?? 0) + 1);
  const rows = CATALOGUE.map(({ id, startingWeight }) => {
    const n = cases.get(id) ?? 0;
    const share = (PRIOR_WORTH_CASES * (startingWeight / whole) + n) / (PRIOR_WORTH_CASES + counted.length);
    return { cause: id, from: startingWeight, to: whole * share, cases: n };
  });
  return {
    weights: Object.fromEntries(rows.map(({ cause, to }) => [cause, to])),
    moved: rows
      .filter(({ from, to }) => Math.abs(to - from) > 1e-9)
      .sort((a, b) => Math.abs(Math.log(b.to / b.from)) - Math.abs(Math.log(a.to / a.from))),
    casesCounted: counted.length,
  };
};

const whole = CATALOGUE.reduce((sum, { startingWeight }) => sum + startingWeight, 0);
const known: ReadonlySet<string> = new Set(CATALOGUE.map(({ id }) => id));

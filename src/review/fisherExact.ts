import { lnChoose } from './gamma.ts';

export type FisherResult = {
  /** Chance of as many events in the first row or fewer. */
  readonly pLess: number;
  /** Chance of as many events in the first row or more. */
  readonly pGreater: number;
  readonly pTwoSided: number;
  /** As `pGreater`, with half of the chance of the table seen: less conservative. */
  readonly midPGreater: number;
  readonly midPLess: number;
};

/**
 * Fisher's exact test of x₁ of n₁ against x₂ of n₂, all margins held. Two-sided: all tables no more probable than the
 * one seen (relative slack 1e-7). Source: R Core Team, R stats manual, fisher.test; mid-p: Lancaster 1961 (from memory).
 */
export function fisherExact(events1: number, n1: number, events2: number, n2: number): FisherResult {
  const events = events1 + events2;
  const lowest = Math.max(0, events - n2);
  const chances = hypergeometric(n1, n2, events);
  const seen = chances[events1 - lowest]!;
  let less = 0;
  let greater = 0;
  let twoSided = 0;
  chances.forEach((chance, at) => {
    const x = lowest + at;
    if (x <= events1) less += chance;
    if (x >= events1) greater += chance;
    if (chance <= seen * (1 + 1e-7)) twoSided += chance;
  });
  return {
    pLess: Math.min(1, less),
    pGreater: Math.min(1, greater),
    pTwoSided: Math.min(1, twoSided),
    midPGreater: Math.max(0, Math.min(1, greater - seen / 2)),
    midPLess: Math.max(0, Math.min(1, less - seen / 2)),
  };
}

/**
 * P(X = x) for every possible x, lowest first: x of the `events` fall among the first n₁ when all n₁ + n₂ are alike.
 * Worked outwards from the most likely count by the ratio of neighbours, so that thousands cost little.
 */
function hypergeometric(n1: number, n2: number, events: number): number[] {
  const lowest = Math.max(0, events - n2);
  const highest = Math.min(events, n1);
  const mode = Math.min(highest, Math.max(lowest, Math.floor(((events + 1) * (n1 + 1)) / (n1 + n2 + 2))));
  const chances = new Array<number>(highest - lowest + 1).fill(0);
  chances[mode - lowest] = Math.exp(
    lnChoose(n1, mode) + lnChoose(n2, events - mode) - lnChoose(n1 + n2, events),
  );
  for (let x = mode; x < highest; x += 1) {
    const ratio = ((n1 - x) * (events - x)) / ((x + 1) * (n2 - events + x + 1));
    chances[x + 1 - lowest] = chances[x - lowest]! * ratio;
  }
  for (let x = mode; x > lowest; x -= 1) {
    const ratio = (x * (n2 - events + x)) / ((n1 - x + 1) * (events - x + 1));
    chances[x - 1 - lowest] = chances[x - lowest]! * ratio;
  }
  return chances;
}

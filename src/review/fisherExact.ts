import { lnChoose } from './gamma.ts';

export type FisherResult = {
  /** Chance of as many events in the first row or fewer. */
  readonly pLess: number;
  /** Chance of as many events in the first row or more. */
  readonly pGreater: number;
  readonly pTwoSided: number;
  /** As `pGreater`, with half of the chance of the table seen: less conservative. */
  readonly midPGreater: number;
};

/**
 * Fisher's exact test of x₁ of n₁ against x₂ of n₂, all margins held. Two-sided: all tables no more probable than the
 * one seen (relative slack 1e-7). Source: R Core Team, R stats manual, fisher.test; mid-p: Lancaster 1961 (from memory).
 */
export function fisherExact(events1: number, n1: number, events2: number, n2: number): FisherResult {
  const events = events1 + events2;
  const lowest = Math.max(0, events - n2);
  const highest = Math.min(events, n1);
  const seen = hypergeometricPmf(events1, n1, n2, events);
  let less = 0;
  let greater = 0;
  let twoSided = 0;
  for (let x = lowest; x <= highest; x += 1) {
    const chance = hypergeometricPmf(x, n1, n2, events);
    if (x <= events1) less += chance;
    if (x >= events1) greater += chance;
    if (chance <= seen * (1 + 1e-7)) twoSided += chance;
  }
  return {
    pLess: Math.min(1, less),
    pGreater: Math.min(1, greater),
    pTwoSided: Math.min(1, twoSided),
    midPGreater: Math.max(0, Math.min(1, greater - seen / 2)),
  };
}

/** P(X = x): x of the `events` fall among the first n₁ when all n₁ + n₂ are alike. */
function hypergeometricPmf(x: number, n1: number, n2: number, events: number): number {
  return Math.exp(lnChoose(n1, x) + lnChoose(n2, events - x) - lnChoose(n1 + n2, events));
}

import { normalCdf } from './normalDistribution.ts';
import { wilson } from './oneRate.ts';

export type Difference = { readonly difference: number; readonly low: number; readonly high: number };

/**
 * Difference of two rates, x₁/n₁ − x₂/n₂, by the hybrid of two Wilson intervals:
 * d − √((p₁−l₁)² + (u₂−p₂)²) to d + √((u₁−p₁)² + (p₂−l₂)²).
 * Source: Newcombe, Stat Med 1998;17:873-890, method 10.
 */
export function differenceOfRates(
  events1: number,
  n1: number,
  events2: number,
  n2: number,
  confidence = 0.95,
): Difference {
  const first = wilson(events1, n1, confidence);
  const second = wilson(events2, n2, confidence);
  const p1 = events1 / n1;
  const p2 = events2 / n2;
  return {
    difference: p1 - p2,
    low: p1 - p2 - Math.hypot(p1 - first.low, second.high - p2),
    high: p1 - p2 + Math.hypot(first.high - p1, p2 - second.low),
  };
}

/**
 * z test of two rates with the pooled variance and no continuity correction; only for cells of five and more.
 * Source: R Core Team, R stats manual, prop.test (from memory).
 */
export function pooledZTest(
  events1: number,
  n1: number,
  events2: number,
  n2: number,
): { readonly z: number; readonly chiSquare: number; readonly pTwoSided: number } {
  const pooled = (events1 + events2) / (n1 + n2);
  const error = Math.sqrt(pooled * (1 - pooled) * (1 / n1 + 1 / n2));
  const z = error === 0 ? 0 : (events1 / n1 - events2 / n2) / error;
  return { z, chiSquare: z * z, pTwoSided: 2 * normalCdf(-Math.abs(z)) };
}

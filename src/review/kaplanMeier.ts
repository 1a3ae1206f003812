import { twoSidedZ } from './normalDistribution.ts';
import type { DayTally } from './watched.ts';

export type SurvivalStep = {
  readonly day: number;
  readonly atRisk: number;
  readonly survival: number;
  readonly standardError: number;
  /** Log-log limits; null where the curve is at 0 or 1 and they do not exist. */
  readonly low: number | null;
  readonly high: number | null;
};

/**
 * Share still waiting, S = Π(1 − d/n), one step for each day with an end. Error by Greenwood, S √Σ d/(n(n−d)); limits
 * S^exp(±z √Σ / |ln S|), which stay inside (0, 1) and hold up in small groups.
 * Source: Kaplan, Meier 1958; Greenwood 1926; Kalbfleisch, Prentice (log-log limits; from memory).
 */
export function kaplanMeier(tally: readonly DayTally[], confidence = 0.95): SurvivalStep[] {
  const z = twoSidedZ(confidence);
  const steps: SurvivalStep[] = [];
  let survival = 1;
  let sum = 0;
  for (const { day, atRisk, allEnds } of tally) {
    if (allEnds === 0) continue;
    survival *= 1 - allEnds / atRisk;
    if (allEnds === atRisk) {
      steps.push({ day, atRisk, survival: 0, standardError: 0, low: null, high: null });
      break;
    }
    sum += allEnds / (atRisk * (atRisk - allEnds));
    const reach = Math.exp((z * Math.sqrt(sum)) / Math.abs(Math.log(survival)));
    steps.push({
      day,
      atRisk,
      survival,
      standardError: survival * Math.sqrt(sum),
      low: survival ** reach,
      high: survival ** (1 / reach),
    });
  }
  return steps;
}

export type MedianDay = {
  readonly median: number | null;
  readonly low: number | null;
  readonly high: number | null;
};

/** Rounding of the products must not push a curve that stands at one half to just above it. */
const HALF = 0.5 + 1e-12;

/** First day with S ≤ ½, and the first days on which each limit is at ½ or below; null says "not reached". */
export function medianDay(steps: readonly SurvivalStep[]): MedianDay {
  const first = (value: (step: SurvivalStep) => number | null): number | null =>
    steps.find((step) => (value(step) ?? 1) <= HALF)?.day ?? null;
  return {
    median: first((step) => step.survival),
    low: first((step) => step.low),
    high: first((step) => step.high),
  };
}

/** Area under the curve of those still waiting from day 0 to day `until`, in days: always defined. */
export function restrictedMeanDays(steps: readonly SurvivalStep[], until: number): number {
  let area = 0;
  let day = 0;
  let survival = 1;
  for (const step of steps) {
    if (step.day >= until) break;
    area += survival * (step.day - day);
    day = step.day;
    survival = step.survival;
  }
  return area + survival * (until - day);
}

/** The value of a step curve on a day: that of the last step on or before it; undefined before the first. */
export function stepOn<T extends { readonly day: number }>(steps: readonly T[], day: number): T | undefined {
  let found: T | undefined;
  for (const step of steps) {
    if (step.day > day) break;
    found = step;
  }
  return found;
}

/** Weights of a log-likelihood-ratio sum for "the rate rose from p₀ to p₁": ln(p₁/p₀), and ln((1−p₁)/(1−p₀)). */
export function bernoulliWeights(
  rateGood: number,
  rateBad: number,
): { readonly event: number; readonly noEvent: number } {
  return { event: Math.log(rateBad / rateGood), noEvent: Math.log((1 - rateBad) / (1 - rateGood)) };
}

/**
 * Weight of one pair with expected risk p against an odds ratio R: ln(R/(1 − p + Rp)) if it came back, else
 * ln(1/(1 − p + Rp)). Source: Steiner, Cook, Farewell, Treasure, Biostatistics 2000;1:441-452, p. 446.
 */
export function riskAdjustedWeight(risk: number, event: boolean, oddsRatio: number): number {
  return Math.log((event ? oddsRatio : 1) / (1 - risk + oddsRatio * risk));
}

export type SumPath = {
  /** The sum after each pair. */
  readonly path: readonly number[];
  /** One-based positions of the alarms. */
  readonly alarms: readonly number[];
};

/**
 * S ← max(0, S + w), alarm at S ≥ h. With `startAgain` the sum goes back to 0 after an alarm.
 * Source: Reynolds, Stoumbos, J Qual Technol 1999 (from memory).
 */
export function cumulativeSum(weights: ArrayLike<number>, alarmAt: number, startAgain: boolean): SumPath {
  const path: number[] = [];
  const alarms: number[] = [];
  let sum = 0;
  for (let at = 0; at < weights.length; at += 1) {
    sum = Math.max(0, sum + weights[at]!);
    path.push(sum);
    // Sums of whole steps held as fractions may miss the line by rounding alone.
    if (sum < alarmAt - 1e-9) continue;
    alarms.push(at + 1);
    if (startAgain) sum = 0;
  }
  return { path, alarms };
}

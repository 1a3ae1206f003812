/**
 * Bayes' rule over causes that exclude one another, from prior shares and the likelihood of one answer under each.
 * Worked in logs with the largest taken out, so that many findings in a row do not run to 0. A prior or likelihood of 0
 * rules a cause out. Returns the shares and the probability of the answer itself.
 */
export function posteriorShares(
  prior: readonly number[],
  likelihood: readonly number[],
): { readonly shares: readonly number[]; readonly evidence: number } {
  const logs = prior.map((share, at) => Math.log(share) + Math.log(likelihood[at]!));
  const top = Math.max(...logs);
  if (top === Number.NEGATIVE_INFINITY) return { shares: prior.map(() => 0), evidence: 0 };
  const weights = logs.map((log) => Math.exp(log - top));
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return { shares: weights.map((weight) => weight / sum), evidence: sum * Math.exp(top) };
}

/** Shannon entropy −Σ p log₂ p in bits, 0 log 0 = 0. */
export function entropyBits(shares: readonly number[]): number {
  return shares.reduce((sum, p) => (p > 0 ? sum - p * Math.log2(p) : sum), 0);
}

/**
 * What a question is worth: entropy now less the expected entropy after its answer, in bits, never below 0.
 * `likelihoods[a][c]` is the chance of answer a under cause c; "unsure" is an answer like any other.
 * Source: Poole, Mackworth, Artificial Intelligence: Foundations of Computational Agents, 2nd ed., 8.1.5.
 */
export function expectedGainBits(
  prior: readonly number[],
  likelihoods: readonly (readonly number[])[],
): number {
  const after = likelihoods.reduce((sum, likelihood) => {
    const { shares, evidence } = posteriorShares(prior, likelihood);
    return sum + evidence * entropyBits(shares);
  }, 0);
  return Math.max(0, entropyBits(prior) - after);
}

/** Odds form: prior odds times the likelihood ratios of findings that are independent given the cause. */
export function posteriorByOdds(
  prior: number,
  ratios: readonly number[],
): { readonly share: number; readonly log10Odds: number } {
  const log10Odds = ratios.reduce((sum, ratio) => sum + Math.log10(ratio), Math.log10(prior / (1 - prior)));
  return { share: 1 / (1 + 10 ** -log10Odds), log10Odds };
}

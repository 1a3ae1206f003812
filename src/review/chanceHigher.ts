import { betaCdf } from './betaDistribution.ts';
import { lnBeta } from './gamma.ts';

export type BetaShape = { readonly alpha: number; readonly beta: number };

/**
 * Chance that a rate known as Beta(first) is higher than one known as Beta(second), independent: ∫ f₁(t) F₂(t) dt.
 * Integrated on the scale u = ln(t/(1−t)), where the density is smooth whatever its shape, by the trapezoid rule over
 * the narrower of the two, so that the other's distribution function is never steeper than the steps.
 * Absolute error below 1e-9. Source: derivation; checked against a 20,000-step Simpson sum.
 */
export function chanceFirstHigher(first: BetaShape, second: BetaShape): number {
  if (spread(first) <= spread(second)) {
    return integrate(first, (t, rest) => below(second, t, rest));
  }
  return 1 - integrate(second, (t, rest) => below(first, t, rest));
}

/** Chance of at most t, from t below one half and from the rest 1 − t above: near 1 the rest holds the digits. */
const below = ({ alpha, beta }: BetaShape, t: number, rest: number): number =>
  t < 0.5 ? betaCdf(t, alpha, beta) : 1 - betaCdf(rest, beta, alpha);

/** Standard deviation on the logit scale, near enough to choose steps by. */
const spread = ({ alpha, beta }: BetaShape): number => Math.sqrt(1 / alpha + 1 / beta);

function integrate({ alpha, beta }: BetaShape, weight: (t: number, rest: number) => number): number {
  const lnB = lnBeta(alpha, beta);
  const lnDensity = (u: number): number =>
    u < 0
      ? alpha * u - (alpha + beta) * Math.log1p(Math.exp(u)) - lnB
      : -beta * u - (alpha + beta) * Math.log1p(Math.exp(-u)) - lnB;
  const mode = Math.log(alpha / beta);
  const step = spread({ alpha, beta }) / 5;
  const floor = lnDensity(mode) - 30;
  let sum = 0;
  for (let u = mode; lnDensity(u) > floor; u += step)
    sum += Math.exp(lnDensity(u)) * weight(1 / (1 + Math.exp(-u)), 1 / (1 + Math.exp(u)));
  for (let u = mode - step; lnDensity(u) > floor; u -= step) {
    sum += Math.exp(lnDensity(u)) * weight(1 / (1 + Math.exp(-u)), 1 / (1 + Math.exp(u)));
  }
  return Math.min(1, sum * step);
}

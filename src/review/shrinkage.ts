import { betaQuantile } from './betaDistribution.ts';
import type { BetaShape } from './chanceHigher.ts';
import { digammaRise, lnBeta, trigammaRise } from './gamma.ts';

export type Group = { readonly events: number; readonly n: number };

/** The prior is worth this many pairs at the most: beyond it the groups show no spread past chance. */
export const STRENGTH_CAP = 1e6;
const STRENGTH_FLOOR = 0.05;

export type PriorFit =
  | {
      readonly kind: 'fitted' | 'pool completely';
      readonly alpha: number;
      readonly beta: number;
      readonly mean: number;
      readonly strength: number;
    }
  | { readonly kind: 'not estimable'; readonly why: string };

/**
 * Beta prior of several groups' rates by marginal likelihood: the maximum of Σ lnB(α + x, β + n − x) − lnB(α, β) over
 * mean m = α/(α+β) and strength M = α + β. For each M the likelihood is concave in m; M is found where the slope
 * along the best m turns from rising to falling. When it never falls, M is capped and "no group stands out".
 * One group, none or all with events: nothing to fit. Source: Kleinman, JASA 1973; R package BayesGOF for check values.
 */
export function fitBetaPrior(groups: readonly Group[]): PriorFit {
  const counted = groups.filter(({ n }) => n > 0);
  const events = counted.reduce((sum, group) => sum + group.events, 0);
  const n = counted.reduce((sum, group) => sum + group.n, 0);
  if (counted.length < 2) return { kind: 'not estimable', why: 'one group carries no spread between groups' };
  if (events === 0) return { kind: 'not estimable', why: 'no group has an event' };
  if (events === n) return { kind: 'not estimable', why: 'every pair has an event' };

  const slopeAt = (lnStrength: number): { slope: number; mean: number } => {
    const strength = Math.exp(lnStrength);
    const mean = bestMean(counted, strength, events / n);
    return { slope: slopeInStrength(counted, mean, strength), mean };
  };
  const low = Math.log(STRENGTH_FLOOR);
  const high = Math.log(STRENGTH_CAP);
  const points = 34;
  let best: { lnL: number; lnStrength: number; mean: number } | undefined;
  const offer = (lnStrength: number, mean: number): void => {
    const lnL = lnLikelihood(counted, mean, Math.exp(lnStrength));
    if (best === undefined || lnL > best.lnL) best = { lnL, lnStrength, mean };
  };
  let before = { at: low, ...slopeAt(low) };
  if (before.slope <= 0) offer(low, before.mean);
  for (let k = 1; k <= points; k += 1) {
    const at = low + ((high - low) * k) / points;
    const here = { at, ...slopeAt(at) };
    if (before.slope > 0 && here.slope <= 0) {
      const turn = bisect(before.at, here.at, (x) => slopeAt(x).slope);
      offer(turn, slopeAt(turn).mean);
    }
    before = here;
  }
  if (best === undefined) {
    // The stronger the prior, the nearer the best mean comes to the rate of all pairs together.
    const mean = events / n;
    const strength = Math.max(STRENGTH_CAP, 100 * n);
    return { kind: 'pool completely', alpha: mean * strength, beta: (1 - mean) * strength, mean, strength };
  }
  const strength = Math.exp(best.lnStrength);
  return {
    kind: 'fitted',
    alpha: best.mean * strength,
    beta: (1 - best.mean) * strength,
    mean: best.mean,
    strength,
  };
}

/**
 * Beta prior from the mean and standard deviation (k − 1) of raw rates: M = m(1−m)/v − 1. Counts sampling noise as
 * real spread, so it shrinks too little: a start, not an answer. Source: Gelman et al., Bayesian Data Analysis, ch. 5 (from memory).
 */
export function priorFromMoments(groups: readonly Group[]): {
  readonly mean: number;
  readonly sd: number;
  readonly alpha: number;
  readonly beta: number;
} {
  const rates = groups.filter(({ n }) => n > 0).map(({ events, n }) => events / n);
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
  const variance = rates.reduce((sum, rate) => sum + (rate - mean) ** 2, 0) / (rates.length - 1);
  const strength = (mean * (1 - mean)) / variance - 1;
  return { mean, sd: Math.sqrt(variance), alpha: mean * strength, beta: (1 - mean) * strength };
}

export type Posterior = BetaShape & {
  readonly mean: number;
  readonly sd: number;
  readonly low: number;
  readonly high: number;
};

/** What is known of one group's rate after x of n: Beta(α + x, β + n − x), with its equal-tailed interval. */
export function posteriorRate(prior: BetaShape, { events, n }: Group, confidence = 0.95): Posterior {
  const alpha = prior.alpha + events;
  const beta = prior.beta + n - events;
  const size = alpha + beta;
  const tail = (1 - confidence) / 2;
  return {
    alpha,
    beta,
    mean: alpha / size,
    sd: Math.sqrt((alpha * beta) / (size * size * (size + 1))),
    low: betaQuantile(tail, alpha, beta),
    high: betaQuantile(1 - tail, alpha, beta),
  };
}

export type ShrunkenRate = { readonly mean: number; readonly low: number; readonly high: number };

export type Shrinkage = {
  readonly rates: readonly ShrunkenRate[];
  readonly prior: PriorFit;
  /** How the estimates came about, in words for the page. */
  readonly method: string;
};

/**
 * Best guess of every group's rate, drawn towards the rate of all. Neither how strongly nor towards what is taken as known:
 * both are averaged over, each strength and mean weighted by its likelihood and by the weak prior s/(s + M)² (all degrees
 * of shrinking about equally likely; s a quarter of the middle group size, our own choice by played shops). A prior taken
 * as known makes intervals that cover too seldom.
 * Where nothing can be fitted: Jeffreys' prior, no shrinking.
 * Source: Christiansen, Morris, JASA 1997;92:618-632 (uniform shrinkage prior, from memory).
 */
export function shrinkRates(groups: readonly Group[]): Shrinkage {
  const prior = fitBetaPrior(groups);
  if (prior.kind === 'not estimable') {
    const rates = groups.map((group) => posteriorRate({ alpha: 0.5, beta: 0.5 }, group));
    return { rates, prior, method: `each by itself, Jeffreys prior (${prior.why})` };
  }
  const mixture = priorMixture(groups.filter(({ n }) => n > 0));
  const rates = groups.map((group) => mixedPosterior(mixture, group));
  const how =
    prior.kind === 'fitted'
      ? `averaged over how strongly, most likely by a prior worth ${Math.round(prior.strength)} pairs`
      : 'averaged over how strongly; no group stands out beyond chance';
  return { rates, prior, method: `drawn towards all: ${how}` };
}

type MixturePart = { readonly weight: number; readonly prior: BetaShape };

const STRENGTHS = 25;
/** Means on both sides of the best one, in standard errors of its logit. */
const REACHES = [-2.4, -1.6, -0.8, 0, 0.8, 1.6, 2.4];

function priorMixture(groups: readonly Group[]): MixturePart[] {
  const events = groups.reduce((sum, group) => sum + group.events, 0);
  const n = groups.reduce((sum, group) => sum + group.n, 0);
  const sizes = groups.map((group) => group.n).sort((a, b) => a - b);
  const middle = sizes[Math.floor(sizes.length / 2)]! / 4;
  const parts = Array.from({ length: STRENGTHS }, (_, k) => {
    const strength = Math.exp((Math.log(STRENGTH_CAP) * k) / (STRENGTHS - 1));
    const lnPrior = Math.log(strength) - 2 * Math.log(middle + strength);
    const best = bestMean(groups, strength, events / n);
    const centre = Math.log(best / (1 - best));
    const at = (logit: number): number => lnLikelihood(groups, 1 / (1 + Math.exp(-logit)), strength);
    const bend = (2 * at(centre) - at(centre - BEND_STEP) - at(centre + BEND_STEP)) / BEND_STEP ** 2;
    const error = bend > 0 ? 1 / Math.sqrt(bend) : 1;
    return REACHES.map((reach) => {
      const logit = centre + reach * error;
      const mean = 1 / (1 + Math.exp(-logit));
      return {
        // A flat prior over the mean, and the width of the step in it.
        lnWeight: at(logit) + lnPrior + Math.log(mean * (1 - mean) * error),
        prior: { alpha: mean * strength, beta: (1 - mean) * strength },
      };
    });
  }).flat();
  const top = parts.reduce((most, { lnWeight }) => Math.max(most, lnWeight), Number.NEGATIVE_INFINITY);
  const total = parts.reduce((sum, part) => sum + Math.exp(part.lnWeight - top), 0);
  return parts
    .map((part) => ({ weight: Math.exp(part.lnWeight - top) / total, prior: part.prior }))
    .filter((part) => part.weight > 1e-5);
}

const BEND_STEP = 0.1;

/** Mean and variance of the mixture, and the interval of the beta that has them. */
function mixedPosterior(mixture: readonly MixturePart[], { events, n }: Group): ShrunkenRate {
  let mean = 0;
  let square = 0;
  let whole = 0;
  for (const { weight, prior } of mixture) {
    const alpha = prior.alpha + events;
    const size = prior.alpha + prior.beta + n;
    const one = alpha / size;
    whole += weight;
    mean += weight * one;
    square += weight * ((one * (1 - one)) / (size + 1) + one * one);
  }
  mean /= whole;
  const variance = square / whole - mean * mean;
  const size = (mean * (1 - mean)) / variance - 1;
  return {
    mean,
    low: betaQuantile(0.025, mean * size, (1 - mean) * size),
    high: betaQuantile(0.975, mean * size, (1 - mean) * size),
  };
}

/** The mean that fits best at this strength: Newton on a concave function, kept inside (0, 1). */
function bestMean(groups: readonly Group[], strength: number, start: number): number {
  let low = 0;
  let high = 1;
  let mean = start;
  for (let step = 0; step < 80; step += 1) {
    let slope = 0;
    let bend = 0;
    const alpha = mean * strength;
    const beta = strength - alpha;
    for (const { events, n } of groups) {
      slope += digammaRise(alpha, events) - digammaRise(beta, n - events);
      bend += trigammaRise(alpha, events) + trigammaRise(beta, n - events);
    }
    if (slope > 0) low = mean;
    else high = mean;
    let next = mean - slope / (bend * strength);
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (Math.abs(next - mean) < 1e-13 * mean) return next;
    mean = next;
  }
  return mean;
}

function slopeInStrength(groups: readonly Group[], mean: number, strength: number): number {
  let slope = 0;
  const alpha = mean * strength;
  const beta = strength - alpha;
  for (const { events, n } of groups) {
    slope +=
      mean * digammaRise(alpha, events) +
      (1 - mean) * digammaRise(beta, n - events) -
      digammaRise(strength, n);
  }
  return slope;
}

function lnLikelihood(groups: readonly Group[], mean: number, strength: number): number {
  const alpha = mean * strength;
  const beta = strength - alpha;
  const lnPrior = lnBeta(alpha, beta);
  return groups.reduce((sum, { events, n }) => sum + lnBeta(alpha + events, beta + n - events) - lnPrior, 0);
}

/** Where `f` turns from positive to not positive between two points. */
function bisect(from: number, to: number, f: (x: number) => number, steps = 60): number {
  let low = from;
  let high = to;
  for (let step = 0; step < steps; step += 1) {
    const middle = (low + high) / 2;
    if (f(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

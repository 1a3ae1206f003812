/** One adapter per topic of the statistics check values: from a row's `given` to the numbers that our own code gives. */
import { aalenJohansen, type EndStep } from '../../src/review/aalenJohansen.ts';
import { anyDifference } from '../../src/review/anyDifference.ts';
import { binomialTest } from '../../src/review/binomial.ts';
import { chanceFirstHigher } from '../../src/review/chanceHigher.ts';
import { proportionChart } from '../../src/review/controlChart.ts';
import { bernoulliWeights, cumulativeSum, riskAdjustedWeight } from '../../src/review/cumulativeSum.ts';
import { fisherExact } from '../../src/review/fisherExact.ts';
import {
  exactFunnelLimit,
  leaveOneOutRates,
  normalFunnelLimit,
  overDispersion,
  placeInFunnel,
} from '../../src/review/funnelLimits.ts';
import {
  kaplanMeier,
  medianDay,
  restrictedMeanDays,
  type SurvivalStep,
  stepOn,
} from '../../src/review/kaplanMeier.ts';
import { type LogRank, logRank, type WatchedGroup } from '../../src/review/logRank.ts';
import { adjustBenjaminiHochberg, adjustHolm } from '../../src/review/manyLooks.ts';
import {
  agrestiCoull,
  clopperPearson,
  type Interval,
  jeffreys,
  nothingSeen,
  wilson,
} from '../../src/review/oneRate.ts';
import { averageRunLength } from '../../src/review/runLength.ts';
import { pairsPerArm } from '../../src/review/sampleSize.ts';
import { fitBetaPrior, type Group, posteriorRate, priorFromMoments } from '../../src/review/shrinkage.ts';
import { differenceOfRates, pooledZTest } from '../../src/review/twoRates.ts';
import { tallyByDay } from '../../src/review/watched.ts';
import { entropyBits, expectedGainBits, posteriorByOdds, posteriorShares } from './statistics.bayes.ts';
import {
  brier,
  calibrationError,
  hammingLoss,
  kappa,
  mcNemar,
  pairedDifference,
  scoreLabels,
  weightedKappa,
} from './statistics.measures.ts';

// biome-ignore lint/suspicious/noExplicitAny: a check row may carry any JSON; each adapter reads the keys of its topic.
export type Given = Record<string, any>;
type Results = Record<string, unknown>;
/** The `given` of another row that this one points to by its id. */
type OtherRow = (id: string) => Given;
type Adapter = (given: Given, otherRow: OtherRow) => Results;

const pair = ({ low, high }: Interval): number[] => [low, high];
const groupOf = ([events, n]: readonly number[]): Group => ({ events: events!, n: n! });
const groupsOf = (groups: readonly (readonly number[])[]): Group[] => groups.map(groupOf);
const percentLimits = (centre: number, n: number): number[] =>
  [0.001, 0.025, 0.975, 0.999].map((p) => exactFunnelLimit(centre, n, p));

const wilsonOnly: Adapter = (g) => ({ ...wilson(g.events, g.n, g.confidence) });

const severalIntervals: Adapter = (g) => {
  const events = g.events ?? g.remade;
  const n = g.n ?? g.delivered;
  return {
    rate: events / n,
    wilson: pair(wilson(events, n, g.confidence)),
    jeffreys: pair(jeffreys(events, n, g.confidence)),
    clopper_pearson: pair(clopperPearson(events, n, g.confidence)),
    agresti_coull: pair(agrestiCoull(events, n, g.confidence)),
  };
};

const hybridDifference: Adapter = (g) => ({
  ...differenceOfRates(g.events_1, g.n_1, g.events_2, g.n_2, g.confidence),
});

const adjusted: Adapter = (g) => {
  const p: number[] = g.p;
  const bh = adjustBenjaminiHochberg(p);
  return {
    bh,
    holm: adjustHolm(p),
    rejected_bh_at_0_05: bh.filter((value) => value <= 0.05).length,
    rejected_bonferroni_at_0_05: p.filter((value) => value * p.length <= 0.05).length,
  };
};

const betaFit: Adapter = (g) => {
  const groups = groupsOf(g.groups);
  const fit = fitBetaPrior(groups);
  if (fit.kind === 'not estimable') return { fit: fit.kind };
  const means = groups.map((group) => posteriorRate(fit, group).mean);
  return {
    alpha: fit.alpha,
    beta: fit.beta,
    prior_mean: fit.mean,
    prior_strength: fit.strength,
    posterior_mean: means,
    posterior_mean_first: means[0],
    posterior_mean_last: means.at(-1),
    pool_completely: fit.kind === 'pool completely',
  };
};

const chanceWorse: Adapter = (g) => {
  const prior = { alpha: g.prior_alpha, beta: g.prior_beta };
  const first = posteriorRate(prior, groupOf(g.design ?? g.first));
  const second = posteriorRate(prior, groupOf(g.rest ?? g.second));
  const chance = chanceFirstHigher(first, second);
  return { probability_worse: chance, probability_first_higher: chance };
};

const whoLiesOutside: Adapter = (g) => {
  const groups = groupsOf(g.groups ?? g.designs);
  const centres =
    typeof g.centre === 'number' ? groups.map(() => g.centre as number) : leaveOneOutRates(groups);
  const found = groups.map((group, at) => placeInFunnel(group, centres[at]!));
  const positions = (place: string): number[] =>
    found.flatMap((one, at) => (one.place === place ? [at + 1] : []));
  return {
    p_upper: found.map(({ upperTail }) => upperTail),
    outside_97_5: found.map(({ upperTail }) => upperTail <= 0.025),
    outside_99_9: found.map(({ upperTail }) => upperTail <= 0.001),
    above_99_8: positions('above 99.8'),
    above_95_only: positions('above 95'),
    below_95_only: positions('below 95'),
    below_99_8: positions('below 99.8'),
  };
};

const chartOfCounts: Adapter = (g) => {
  const counts: number[] = g.nonconforming;
  const sizes: number[] = Array.isArray(g.n) ? g.n : counts.map(() => g.n);
  const { centre, limits, outside } = proportionChart(counts, sizes);
  const each = Array.isArray(g.n);
  return {
    centre,
    low: each ? limits.map(({ low }) => low) : limits[0]!.low,
    high: each ? limits.map(({ high }) => high) : limits[0]!.high,
    outside_samples: outside,
  };
};

/** The chart of counts is the chart of shares times n. */
const chartOfNumbers: Adapter = (g, otherRow) => {
  const shares = chartOfCounts(g, otherRow);
  const times = (value: unknown): unknown =>
    Array.isArray(value) ? value.map((x: number, at) => x * (g.n[at] ?? 0)) : (value as number) * g.n;
  return {
    rate: shares.centre,
    centre: (shares.centre as number) * g.n,
    low: times(shares.low),
    high: times(shares.high),
    outside_samples: shares.outside_samples,
  };
};

type Watch = { readonly days: number[]; readonly states: number[] };

function watchOf(given: Given, otherRow: OtherRow): Watch {
  const own = given.same_as === undefined ? given : { ...otherRow(given.same_as), ...given };
  // A row that points to another may say in `event` which end it means; the data then stand in the other row.
  const states = own.state ?? (Array.isArray(own.event) ? own.event : otherRow(given.same_as).event);
  return { days: own.time ?? own.time_weeks ?? own.time_months ?? own.day, states };
}

const anyEnd = ({ days, states }: Watch): SurvivalStep[] =>
  kaplanMeier(
    tallyByDay(
      days,
      states.map((state) => (state > 0 ? 0 : null)),
      1,
    ),
  );

const survivalCurve: Adapter = (g, otherRow) => {
  const watch = watchOf(g, otherRow);
  const tally = tallyByDay(
    watch.days,
    watch.states.map((state) => (state > 0 ? 0 : null)),
    1,
  );
  const steps = kaplanMeier(tally, g.confidence);
  const median = medianDay(steps);
  const before = { survival: 1, standardError: 0, low: 1, high: 1, atRisk: watch.days.length };
  const shown = g.at === undefined ? steps : (g.at as number[]).map((day) => stepOn(steps, day) ?? before);
  return {
    at: g.at,
    event_times: steps.map(({ day }) => day),
    at_risk: shown.map(({ atRisk }) => atRisk),
    survival: shown.map(({ survival }) => survival),
    standard_error: shown.map(({ standardError }) => standardError),
    low: shown.map(({ low }) => low),
    high: shown.map(({ high }) => high),
    median: median.median,
    median_low: median.low,
    median_high: median.high,
  };
};

/** Two ways of ending, 1 and 2; 0 is lost from sight. */
const twoEnds = ({ days, states }: Watch): EndStep[] =>
  aalenJohansen(
    tallyByDay(
      days,
      states.map((state) => (state === 0 ? null : state - 1)),
      2,
    ),
  );

const competingEnds: Adapter = (g, otherRow) => {
  const watch = watchOf(g, otherRow);
  const steps = twoEnds(watch);
  const at: number[] = g.at_days ?? g.at;
  const share = (way: number): number[] => at.map((day) => stepOn(steps, day)?.shares[way] ?? 0);
  const error = (way: number): number[] => at.map((day) => stepOn(steps, day)?.errors[way] ?? 0);
  return {
    at,
    at_days: at,
    settled: share(0),
    remade: share(1),
    state_1: share(0),
    state_2: share(1),
    se_settled: error(0),
    se_remade: error(1),
    se_state_1: error(0),
    se_state_2: error(1),
    restricted_mean_days_to_30: restrictedMeanDays(anyEnd(watch), 30),
  };
};

const naiveAgainstHonest: Adapter = (g, otherRow) => {
  const watch = watchOf(g, otherRow);
  const naive = kaplanMeier(
    tallyByDay(
      watch.days,
      watch.states.map((state) => (state === 1 ? 0 : null)),
      1,
    ),
  );
  const honest = twoEnds(watch);
  const at: number[] = g.at_days;
  return {
    at_days: at,
    one_minus_km_settled: at.map((day) => 1 - (stepOn(naive, day)?.survival ?? 1)),
    aalen_johansen_settled: at.map((day) => stepOn(honest, day)?.shares[0] ?? 0),
  };
};

const asLogRank = ({ observed1, expected1, chiSquare, p }: LogRank): Results => ({
  observed_1: observed1,
  expected_1: expected1,
  chi_square: chiSquare,
  p,
});

const watchedFor = ({ days, states }: Watch, wanted: (state: number) => boolean): WatchedGroup => ({
  days,
  seen: states.map(wanted),
});

const logRankTopic: Adapter = (g, otherRow) => {
  if (g.events_1 !== undefined) {
    const group = (events: number[], censored: number[]): WatchedGroup => ({
      days: [...events, ...censored],
      seen: [...events.map(() => true), ...censored.map(() => false)],
    });
    return asLogRank(logRank(group(g.events_1, g.censored_1), group(g.events_2, g.censored_2)));
  }
  if (g.time_1 !== undefined) {
    const first = { days: g.time_1, states: g.event_1 };
    const second = { days: g.time_2, states: g.event_2 };
    const one = medianDay(anyEnd(first));
    const two = medianDay(anyEnd(second));
    return {
      ...asLogRank(
        logRank(
          watchedFor(first, (s) => s > 0),
          watchedFor(second, (s) => s > 0),
        ),
      ),
      median_1: one.median,
      median_1_low: one.low,
      median_1_high: one.high,
      median_2: two.median,
      median_2_low: two.low,
      median_2_high: two.high,
    };
  }
  const group = (named: string | Given): WatchedGroup =>
    watchedFor(watchOf(typeof named === 'string' ? otherRow(named) : named, otherRow), (s) => s > 0);
  return asLogRank(logRank(group(g.group_1), group(g.group_2)));
};

const riskTable: Adapter = (g) => {
  const months: number[] = g.months;
  const steps = aalenJohansen(
    months.map((day, at) => {
      const all: number = g.all_events[at];
      const wanted: number = g.events_of_interest[at];
      return { day, atRisk: g.at_risk[at], ends: [wanted, all - wanted], allEnds: all };
    }),
  );
  const percent = (value: (step: EndStep | undefined) => number): number[] =>
    months.map((month) => 100 * value(stepOn(steps, month)));
  return {
    overall_survival_percent: percent((step) => step?.waiting ?? 1),
    cumulative_incidence_percent: percent((step) => step?.shares[0] ?? 0),
  };
};

/** "score s" formulas of the shape 1/(1+exp(a - b s)), or a plain number per case. */
function riskOf(formula: unknown, score: number): number {
  const parts = /1\s*\/\s*\(1\s*\+\s*exp\(\s*(-?[\d.]+)\s*([-+])\s*([\d.]+)\s*\*?\s*s\s*\)\s*\)/.exec(
    String(formula),
  );
  if (parts === null) return typeof formula === 'number' ? formula : score;
  const slope = Number(parts[3]) * (parts[2] === '-' ? -1 : 1);
  return 1 / (1 + Math.exp(Number(parts[1]) + slope * score));
}

const shares = (prior: unknown, size: number): number[] =>
  Array.isArray(prior) ? prior : new Array<number>(size).fill(1 / size);

/** A yes-no sensor over the outcomes 1 to n, told in words such as "outcome > 6" or "outcome even". */
function sensorRows(words: string, outcomes: number): number[][] {
  const compare = /(>=|<=|>|<|=)\s*(\d+)/.exec(words);
  const multiple = /(?:multiple of|divisible by)\s*(\d+)/.exec(words);
  const says = (outcome: number): boolean => {
    if (/even/.test(words)) return outcome % 2 === 0;
    if (/odd/.test(words)) return outcome % 2 === 1;
    if (multiple !== null) return outcome % Number(multiple[1]) === 0;
    if (compare === null) throw new Error(`no sensor is known by these words: ${words}`);
    const bound = Number(compare[2]);
    if (compare[1] === '>') return outcome > bound;
    if (compare[1] === '<') return outcome < bound;
    if (compare[1] === '>=') return outcome >= bound;
    return compare[1] === '<=' ? outcome <= bound : outcome === bound;
  };
  const yes = Array.from({ length: outcomes }, (_, at) => (says(at + 1) ? 1 : 0));
  return [yes, yes.map((value) => 1 - value)];
}

const sensorWorth: Adapter = (g) => {
  const n: number = Array.isArray(g.outcomes) ? g.outcomes.length : g.outcomes;
  const prior = shares(g.prior, n);
  const results: Record<string, number> = { prior_entropy_bits: entropyBits(prior) };
  for (const key of Object.keys(g).filter((name) => name.startsWith('sensor_'))) {
    const gain = expectedGainBits(prior, sensorRows(g[key], n));
    results[key.replace('sensor', 'gain')] = gain;
    results[key.replace('sensor', 'remaining')] = entropyBits(prior) - gain;
  }
  return results;
};

/** A table with the answer in the last column: what each other column tells about it. */
const tableGain: Adapter = (g) => {
  const rows: unknown[][] = g.rows;
  const columns: string[] = g.columns;
  const last = columns.length - 1;
  const outcomes = [...new Set(rows.map((row) => row[last]))];
  const prior = outcomes.map((outcome) => rows.filter((row) => row[last] === outcome).length / rows.length);
  const gains = columns.slice(0, last).map((name, column) => {
    const values = [...new Set(rows.map((row) => row[column]))];
    const likelihoods = values.map((value) =>
      outcomes.map((outcome) => {
        const of = rows.filter((row) => row[last] === outcome);
        return of.filter((row) => row[column] === value).length / of.length;
      }),
    );
    return { name, gain: expectedGainBits(prior, likelihoods) };
  });
  const best = gains.reduce((top, one) => (one.gain > top.gain ? one : top));
  return {
    entropy_bits: entropyBits(prior),
    best: best.name,
    ...Object.fromEntries(gains.map(({ name, gain }) => [`gain_${name}`, gain])),
  };
};

/** Rows of likelihoods, one per answer; a flat list is that of "yes", and "no" is the rest. */
function answerRows(question: unknown): { names: string[]; rows: number[][] } {
  if (Array.isArray(question)) {
    const rows: number[][] = Array.isArray(question[0])
      ? question
      : [question, (question as number[]).map((value) => 1 - value)];
    return { names: ['yes', 'no', 'unsure'], rows };
  }
  const entries = Object.entries(question as Record<string, number[]>);
  return { names: entries.map(([name]) => name), rows: entries.map(([, row]) => row) };
}

/** Which answers were given to the two questions: positions, names, or words such as "yes to both". */
function answersGiven(answers: unknown, a: readonly string[], b: readonly string[]): [number, number] {
  if (answers !== null && typeof answers === 'object' && !Array.isArray(answers)) {
    return answersGiven(Object.values(answers), a, b);
  }
  if (typeof answers === 'string') {
    const words = answers.toLowerCase().match(/\b(yes|no|unsure|first|second|third)\b/g) ?? [];
    const places = ['first', 'second', 'third'];
    const told = words.map((word) => (places.includes(word) ? places.indexOf(word) : word));
    return answersGiven(told.length === 1 ? [told[0], told[0]] : told, a, b);
  }
  const [first, second] = answers as (string | number | boolean)[];
  const at = (answer: string | number | boolean | undefined, names: readonly string[]): number => {
    if (typeof answer === 'number') return answer;
    if (typeof answer === 'boolean') return answer ? 0 : 1;
    const found = names.indexOf(String(answer));
    if (found < 0) throw new Error(`no answer is called ${String(answer)}`);
    return found;
  };
  return [at(first, a), at(second, b)];
}

const twoAnswersInARow: Adapter = (g) => {
  const a = answerRows(g.question_a);
  const b = answerRows(g.question_b);
  const [first, second] = answersGiven(g.answers, a.names, b.names);
  const prior = shares(g.prior, a.rows[0]!.length);
  const afterA = posteriorShares(prior, a.rows[first]!).shares;
  const gainA = expectedGainBits(prior, a.rows);
  const gainB = expectedGainBits(prior, b.rows);
  return {
    gain_a: gainA,
    gain_b: gainB,
    best: gainA >= gainB ? 'question_a' : 'question_b',
    gain_b_after_a: expectedGainBits(afterA, b.rows),
    posterior_after_a: afterA,
    posterior_after_both: posteriorShares(afterA, b.rows[second]!).shares,
  };
};

const oneLabelEach = (labels: readonly (string | number)[]): (string | number)[][] =>
  labels.map((label) => [label]);

const singleLabels: Adapter = (g) => {
  const scores = scoreLabels(oneLabelEach(g.truth), oneLabelEach(g.sorted_as), g.labels);
  return {
    f1_per_label: scores.labels.map(({ f1 }) => f1),
    f1: Object.fromEntries(scores.labels.map(({ label, f1 }) => [label, f1])),
    precision: Object.fromEntries(scores.labels.map(({ label, precision }) => [label, precision])),
    recall: Object.fromEntries(scores.labels.map(({ label, recall }) => [label, recall])),
    accuracy: scores.exactMatch,
    macro_precision: scores.macroPrecision,
    macro_recall: scores.macroRecall,
    macro_f1: scores.macroF1,
    micro_f1: scores.microF1,
    macro_f1_over_all_five: scores.macroF1OverAll,
    macro_f1_over_present_four: scores.macroF1,
  };
};

/** Texts by labels, 0 or 1 in each cell. */
const severalLabels: Adapter = (g) => {
  const named = (rows: number[][]): number[][] =>
    rows.map((row) => row.flatMap((cell, at) => (cell === 1 ? [at] : [])));
  const scores = scoreLabels(named(g.truth), named(g.sorted_as));
  return {
    f1_per_label: scores.labels.map(({ f1 }) => f1),
    macro_f1: scores.macroF1,
    micro_f1: scores.microF1,
    exact_match: scores.exactMatch,
    hamming_loss: hammingLoss(g.truth, g.sorted_as),
  };
};

const calibration: Adapter = (g) => {
  const { expected, maximum, rootMeanSquare } = calibrationError(g.confidence, g.correct, g.bins);
  return {
    expected_calibration_error: expected,
    maximum_calibration_error: maximum,
    root_mean_square: rootMeanSquare,
  };
};

const kappaTopic: Adapter = (g) => {
  const found = kappa(g.counts);
  return {
    kappa: found.kappa,
    observed_agreement: found.observed,
    expected_agreement: found.expected,
    standard_error: found.standardError,
    low: found.low,
    high: found.high,
    ...(g.disagreement_weights === undefined
      ? {}
      : { weighted_kappa: weightedKappa(g.counts, g.disagreement_weights) }),
  };
};

const exactLimits: Adapter = (g) => {
  const limits = Array.isArray(g.n)
    ? g.n.map((n: number) => percentLimits(g.centre, n))
    : percentLimits(g.centre, g.n);
  return { limits, 'limits_0.1_2.5_97.5_99.9_percent': limits };
};

export const adapters: Readonly<Record<string, Adapter>> = {
  'Agresti-Coull, exact and Wilson side by side': severalIntervals,
  'Benjamini-Hochberg and Holm adjusted p': adjusted,
  'Bernoulli cumulative sum': (g) => {
    const weights = bernoulliWeights(g.rate_good, g.rate_bad);
    const { path, alarms } = cumulativeSum(
      (g.outcomes as number[]).map((outcome) => (outcome ? weights.event : weights.noEvent)),
      g.alarm_at,
      false,
    );
    return {
      weight_event: weights.event,
      weight_no_event: weights.noEvent,
      path,
      first_alarm_at_delivery: alarms[0] ?? null,
    };
  },
  'Brier score': (g) => ({ brier: brier(g.probability, g.truth).score }),
  'Clopper-Pearson interval': (g) => ({ ...clopperPearson(g.events, g.n, g.confidence) }),
  "Cohen's kappa with its error, one label never given by one rater": kappaTopic,
  "Cohen's kappa, plain and with disagreement weights": kappaTopic,
  'Fisher exact test': (g) => {
    const [[a, b], [c, d]] = g.table;
    const found = fisherExact(a, a + b, c, c + d);
    return { p_greater: found.pGreater, p_less: found.pLess, p_two_sided: found.pTwoSided };
  },
  'Kaplan-Meier and log-log interval': survivalCurve,
  'Kaplan-Meier down to zero, curve exactly at one half': survivalCurve,
  'Kaplan-Meier with Greenwood error': survivalCurve,
  'Kaplan-Meier with ties and log-log limits': survivalCurve,
  'Kaplan-Meier, error, limits, median': survivalCurve,
  'McNemar test': (g) => {
    const found = mcNemar(g.first_only, g.second_only);
    return {
      chi_square: found.chiSquare,
      chi_square_corrected: found.chiSquareCorrected,
      p_corrected: found.pCorrected,
      p_exact: found.pExact,
    };
  },
  'Wilson score interval': wilsonOnly,
  'Wilson, Agresti-Coull and exact': severalIntervals,
  'a label absent from truth and answers': singleLabels,
  'a question that tells nothing, and one already settled': (g) => ({
    gain_flat: expectedGainBits(g.prior, answerRows(g.flat_question).rows),
    gain_certain: expectedGainBits(g.certain_prior, answerRows(g.any_question).rows),
  }),
  'adjusted p': adjusted,
  'average run length on the integer lattice': (g) => ({
    average_run_length: (g.rates as number[]).map((rate) =>
      averageRunLength(
        {
          stepEvent: g.step_event,
          stepNoEvent: g.step_no_event,
          floor: g.floor,
          start: g.start,
          alarmAtOrAbove: g.alarm_at_or_above,
        },
        rate,
      ),
    ),
  }),
  'best question, then two answers in a row': twoAnswersInARow,
  'beta prior by plain moments of the raw rates': (g) => ({ ...priorFromMoments(groupsOf(g.groups)) }),
  'beta-binomial fit when the spread is barely beyond chance': betaFit,
  'beta-binomial fit, twelve hospitals': betaFit,
  'beta-binomial marginal likelihood fit': betaFit,
  'calibration error, five bins': calibration,
  'calibration error, ten bins, values on edges': calibration,
  'calibration error, two bins': calibration,
  'chance that a design is worse than the rest': chanceWorse,
  'chance that one rate exceeds another': chanceWorse,
  'cumulative incidence from a risk table': riskTable,
  'cumulative incidence, published data': competingEnds,
  'cumulative incidence, published data, events at time 0': competingEnds,
  'deliveries needed per arm to see a doubling': (g) => ({
    n_per_arm: pairsPerArm(g.rate_1, g.rate_2, g.alpha_two_sided, g.power),
  }),
  'difference of paired proportions, hybrid score': (g) => ({
    ...pairedDifference(g.both_yes, g.first_only, g.second_only, g.both_no, g.confidence),
  }),
  'difference of two proportions, hybrid score': hybridDifference,
  'difference, hybrid score': hybridDifference,
  'difference, hybrid score, with zero cells': hybridDifference,
  'entropy and information gain': tableGain,
  'exact binomial funnel limits, interpolated': exactLimits,
  'exact funnel limits, hospitals': exactLimits,
  'exact interval and exact test': (g) => ({
    ...clopperPearson(g.events, g.n, g.confidence),
    p_two_sided: binomialTest(g.events, g.n, g.null_rate),
  }),
  'expected information of a sensor': sensorWorth,
  'interval on recall from a small hand-labelled set': (g) => ({
    recall: g.found / g.relevant,
    ...wilson(g.found, g.relevant, g.confidence),
  }),
  'log-log interval and median': survivalCurve,
  'log-rank test': logRankTopic,
  'macro, micro and per-label F1': singleLabels,
  'mean days in limbo up to day 30': (g, otherRow) => ({
    restricted_mean_days: restrictedMeanDays(anyEnd(watchOf(g, otherRow)), g.tau_days),
  }),
  'median with no censoring': survivalCurve,
  'medians and log-rank on 228 records': logRankTopic,
  'no spread beyond chance': betaFit,
  'nobody answered': (g, otherRow) => {
    const watch = watchOf(g, otherRow);
    const { median } = medianDay(anyEnd(watch));
    return {
      median,
      say: median === null ? 'not reached' : String(median),
      settled_at_30: stepOn(twoEnds(watch), 30)?.shares[0] ?? 0,
    };
  },
  'normal funnel limits': (g) => ({
    low_95: normalFunnelLimit(g.centre, g.n, 0.025),
    high_95: normalFunnelLimit(g.centre, g.n, 0.975),
    low_99_8: normalFunnelLimit(g.centre, g.n, 0.001),
    high_99_8: normalFunnelLimit(g.centre, g.n, 0.999),
  }),
  'np chart': chartOfNumbers,
  'one design against the rest': (g) => {
    const found = fisherExact(g.remade_design, g.delivered_design, g.remade_rest, g.delivered_rest);
    return { p_two_sided: found.pTwoSided, p_greater: found.pGreater, mid_p_greater: found.midPGreater };
  },
  'one group only, or all zero': (g) => ({
    fit: (g.cases as { groups: number[][] }[]).map(({ groups }) => fitBetaPrior(groupsOf(groups)).kind),
  }),
  'over-dispersion factor': (g) => {
    const { z, phi, inflateLimits } = overDispersion(groupsOf(g.groups), g.centre);
    return { z, phi, inflate_limits: inflateLimits };
  },
  'p chart, three-sigma limits': chartOfCounts,
  'per-label table': singleLabels,
  'posterior from one positive test': (g) => ({
    posterior: posteriorShares([g.prior, 1 - g.prior], [g.sensitivity, g.false_positive]).shares[0],
  }),
  'posterior mean and interval of several groups': (g) => ({
    posterior: groupsOf(g.groups).map((group) => {
      const { mean, low, high } = posteriorRate({ alpha: g.alpha, beta: g.beta }, group);
      return [mean, low, high];
    }),
  }),
  'posterior of one group': (g) => {
    const found = posteriorRate({ alpha: g.alpha, beta: g.beta }, { events: g.events, n: g.n });
    return {
      posterior_alpha: found.alpha,
      posterior_beta: found.beta,
      mean: found.mean,
      sd: found.sd,
      low_95: found.low,
      high_95: found.high,
      raw_rate: g.events / g.n,
    };
  },
  'posterior over causes after one answer': (g) => {
    const found = posteriorShares(g.prior, g.likelihood_yes);
    return {
      evidence: found.evidence,
      posterior: found.shares,
      entropy_before_bits: entropyBits(g.prior),
      entropy_after_bits: entropyBits(found.shares),
    };
  },
  'reliability, resolution, uncertainty': (g) => {
    const found = brier(g.probability, g.truth);
    return {
      brier: found.score,
      reliability: found.reliability,
      resolution: found.resolution,
      uncertainty: found.uncertainty,
    };
  },
  'remake rate of one design: three intervals': severalIntervals,
  'risk-adjusted log-likelihood weights, odds ratio 2': (g) => ({
    weights: (g.cases as [number, number][]).map(([score, event]) =>
      riskAdjustedWeight(riskOf(g.risk, score), event === 1, g.odds_ratio),
    ),
  }),
  'settling speed of two designs, cause-specific log-rank': (g, otherRow) => {
    const wanted = /^\s*remade/.test(String(g.event)) ? 2 : 1;
    const group = (named: string | Given): WatchedGroup =>
      watchedFor(watchOf(typeof named === 'string' ? otherRow(named) : named, otherRow), (s) => s === wanted);
    return asLogRank(logRank(group(g.design_1), group(g.design_2)));
  },
  'several designs at once: is there any difference': (g) => {
    const found = anyDifference(g.remade, g.delivered);
    return {
      chi_square: found.chiSquare,
      degrees: found.degrees,
      p_chi_square: found.pChiSquare,
      p_exact: found.pExact,
    };
  },
  'several findings by odds': (g) => {
    const found = posteriorByOdds(g.prior, g.likelihood_ratios);
    return { posterior: found.share, log10_odds: found.log10Odds };
  },
  'several labels per text': severalLabels,
  'several labels per text, one text with none': severalLabels,
  "shrinkage of a small shop's six designs": betaFit,
  'the naive curve overstates': naiveAgainstHonest,
  'three intervals, very small counts': severalIntervals,
  'time to adapt with remake as a competing end': competingEnds,
  'time to adapt, second design': competingEnds,
  'two-proportion z test, pooled, no continuity correction': (g) => {
    const found = pooledZTest(g.events_1, g.n_1, g.events_2, g.n_2);
    return { z: found.z, chi_square: found.chiSquare, p_two_sided: found.pTwoSided };
  },
  'which designs lie outside': whoLiesOutside,
  'which question splits the causes best': (g) => {
    const questions = Object.entries(g.questions as Record<string, number[][]>).map(([name, rows]) => ({
      name,
      gain: expectedGainBits(g.prior, answerRows(rows).rows),
    }));
    return {
      expected_gain_bits: questions.map(({ gain }) => gain),
      best: questions.reduce((top, one) => (one.gain > top.gain ? one : top)).name,
    };
  },
  'who lies outside': whoLiesOutside,
  'zero events: one-sided 95% upper bound and the rule of three': (g) => {
    const { exactUpper, ruleOfThree } = nothingSeen(g.n);
    return { exact_upper: exactUpper, rule_of_three: ruleOfThree };
  },
};

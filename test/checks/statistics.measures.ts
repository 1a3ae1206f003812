/**
 * Measures of the tools themselves (two sorters, two people, a forecast): only tests and the yardstick of the sorter
 * use them, so they live here and not in the product.
 */
import { binomialTest } from '../../src/review/binomial.ts';
import { chiSquareTail, twoSidedZ } from '../../src/review/normalDistribution.ts';
import { wilson } from '../../src/review/oneRate.ts';

type Label = string | number;

type LabelScore = {
  readonly label: Label;
  readonly precision: number;
  readonly recall: number;
  readonly f1: number;
};

export type LabelScores = {
  readonly labels: readonly LabelScore[];
  /** Labels that are in the list but in neither truth nor answers: left out of every mean, and named. */
  readonly absent: readonly Label[];
  readonly macroPrecision: number;
  readonly macroRecall: number;
  readonly macroF1: number;
  /** The same mean with absent labels counted as 0. */
  readonly macroF1OverAll: number;
  readonly microF1: number;
  readonly exactMatch: number;
};

/**
 * Precision, recall and F1 = 2TP/(2TP + FP + FN) per label over texts that carry any number of labels. Macro-F1 is the
 * mean of the labels' F1, not the F1 of the means. A label never hit counts as 0. Labels are listed in sorted order.
 */
export function scoreLabels(
  truth: readonly (readonly Label[])[],
  sortedAs: readonly (readonly Label[])[],
  known: readonly Label[] = [],
): LabelScores {
  const all = sortedLabels([...known, ...truth.flat(), ...sortedAs.flat()]);
  const counts = all.map((label) => {
    let tp = 0;
    let fp = 0;
    let fn = 0;
    truth.forEach((labels, at) => {
      const meant = labels.includes(label);
      const given = sortedAs[at]!.includes(label);
      if (meant && given) tp += 1;
      else if (given) fp += 1;
      else if (meant) fn += 1;
    });
    return { label, tp, fp, fn };
  });
  const present = counts.filter(({ tp, fp, fn }) => tp + fp + fn > 0);
  const labels = present.map(({ label, tp, fp, fn }) => ({
    label,
    precision: ratio(tp, tp + fp),
    recall: ratio(tp, tp + fn),
    f1: ratio(2 * tp, 2 * tp + fp + fn),
  }));
  const f1Sum = labels.reduce((sum, { f1 }) => sum + f1, 0);
  const tp = total(present, 'tp');
  const wrong = total(present, 'fp') + total(present, 'fn');
  const exact = truth.filter((meant, at) => sameSet(meant, sortedAs[at]!)).length;
  return {
    labels,
    absent: counts.filter((count) => !present.includes(count)).map(({ label }) => label),
    macroPrecision: mean(labels.map(({ precision }) => precision)),
    macroRecall: mean(labels.map(({ recall }) => recall)),
    macroF1: ratio(f1Sum, labels.length),
    macroF1OverAll: ratio(f1Sum, all.length),
    microF1: ratio(2 * tp, 2 * tp + wrong),
    exactMatch: ratio(exact, truth.length),
  };
}

/** Share of the cells of a 0-1 table (texts by labels) that are wrong. */
export function hammingLoss(
  truth: readonly (readonly number[])[],
  sortedAs: readonly (readonly number[])[],
): number {
  const cells = truth.flat();
  const answers = sortedAs.flat();
  return ratio(cells.filter((cell, at) => cell !== answers[at]).length, cells.length);
}

export type Kappa = {
  readonly kappa: number;
  readonly observed: number;
  readonly expected: number;
  readonly standardError: number;
  readonly low: number;
  readonly high: number;
};

/**
 * Cohen's kappa of a square table of counts, (p₀ − pₑ)/(1 − pₑ), with the large-sample error of Fleiss, Cohen,
 * Everitt, Psychol Bull 1969;72:323-327 (from memory).
 */
export function kappa(counts: readonly (readonly number[])[], confidence = 0.95): Kappa {
  const n = counts.flat().reduce((sum, x) => sum + x, 0);
  const p = counts.map((row) => row.map((x) => x / n));
  const rows = p.map((row) => row.reduce((sum, x) => sum + x, 0));
  const columns = rows.map((_, j) => p.reduce((sum, row) => sum + row[j]!, 0));
  const observed = p.reduce((sum, row, i) => sum + row[i]!, 0);
  const expected = rows.reduce((sum, row, i) => sum + row * columns[i]!, 0);
  const value = (observed - expected) / (1 - expected);
  let agree = 0;
  let apart = 0;
  p.forEach((row, i) => {
    row.forEach((cell, j) => {
      if (i === j) agree += cell * (1 - (rows[i]! + columns[i]!) * (1 - value)) ** 2;
      else apart += cell * (columns[i]! + rows[j]!) ** 2;
    });
  });
  const variance =
    (agree + (1 - value) ** 2 * apart - (value - expected * (1 - value)) ** 2) / ((1 - expected) ** 2 * n);
  const standardError = Math.sqrt(Math.max(0, variance));
  const reach = twoSidedZ(confidence) * standardError;
  return { kappa: value, observed, expected, standardError, low: value - reach, high: value + reach };
}

/** Cohen's weighted kappa with disagreement weights: 1 − Σ w p / Σ w (row × column). Cohen 1968 (from memory). */
export function weightedKappa(
  counts: readonly (readonly number[])[],
  disagreement: readonly (readonly number[])[],
): number {
  const n = counts.flat().reduce((sum, x) => sum + x, 0);
  const rows = counts.map((row) => row.reduce((sum, x) => sum + x, 0));
  const columns = rows.map((_, j) => counts.reduce((sum, row) => sum + row[j]!, 0));
  let seen = 0;
  let byChance = 0;
  counts.forEach((row, i) => {
    row.forEach((x, j) => {
      seen += disagreement[i]![j]! * x;
      byChance += (disagreement[i]![j]! * rows[i]! * columns[j]!) / n;
    });
  });
  return 1 - seen / byChance;
}

/**
 * Brier score, mean (p − y)², and Murphy's parts with one bin per forecast value:
 * score = reliability − resolution + uncertainty. Murphy, J Appl Met 1973;12:595-600.
 */
export function brier(
  probability: readonly number[],
  truth: readonly number[],
): {
  readonly score: number;
  readonly reliability: number;
  readonly resolution: number;
  readonly uncertainty: number;
} {
  const n = truth.length;
  const base = mean(truth);
  let reliability = 0;
  let resolution = 0;
  for (const value of new Set(probability)) {
    const hits = truth.filter((_, at) => probability[at] === value);
    reliability += (hits.length * (value - mean(hits)) ** 2) / n;
    resolution += (hits.length * (mean(hits) - base) ** 2) / n;
  }
  const score = mean(probability.map((p, at) => (p - truth[at]!) ** 2));
  return { score, reliability, resolution, uncertainty: base * (1 - base) };
}

/**
 * Calibration error over equal-width bins, open below and closed above (a confidence of 0 falls in the lowest):
 * share-weighted mean, largest, and root of the share-weighted mean square of |hit rate − mean confidence|.
 */
export function calibrationError(
  confidence: readonly number[],
  correct: readonly number[],
  bins: number,
): { readonly expected: number; readonly maximum: number; readonly rootMeanSquare: number } {
  let expected = 0;
  let maximum = 0;
  let square = 0;
  for (let bin = 1; bin <= bins; bin += 1) {
    const inside = confidence
      .map((value, at) => ({ value, hit: correct[at]! }))
      .filter(({ value }) => value <= bin / bins && (value > (bin - 1) / bins || (bin === 1 && value === 0)));
    if (inside.length === 0) continue;
    const gap = Math.abs(mean(inside.map(({ hit }) => hit)) - mean(inside.map(({ value }) => value)));
    const share = inside.length / confidence.length;
    expected += share * gap;
    maximum = Math.max(maximum, gap);
    square += share * gap * gap;
  }
  return { expected, maximum, rootMeanSquare: Math.sqrt(square) };
}

/** McNemar's test on the texts where two versions differ: chi-square with and without correction, and the exact binomial. */
export function mcNemar(
  firstOnly: number,
  secondOnly: number,
): {
  readonly chiSquare: number;
  readonly chiSquareCorrected: number;
  readonly pCorrected: number;
  readonly pExact: number;
} {
  const n = firstOnly + secondOnly;
  const apart = Math.abs(firstOnly - secondOnly);
  const chiSquareCorrected = n === 0 ? 0 : Math.max(0, apart - 1) ** 2 / n;
  return {
    chiSquare: n === 0 ? 0 : apart ** 2 / n,
    chiSquareCorrected,
    pCorrected: chiSquareTail(chiSquareCorrected, 1),
    pExact: binomialTest(firstOnly, n, 0.5),
  };
}

/**
 * Difference of two rates on the same texts (first yes less second yes), hybrid score with the correlation term, its
 * numerator lessened by n/2 when positive. Newcombe, Stat Med 1998;17:2635-2650, method 10 (formula from memory).
 */
export function pairedDifference(
  bothYes: number,
  firstOnly: number,
  secondOnly: number,
  bothNo: number,
  confidence = 0.95,
): { readonly difference: number; readonly low: number; readonly high: number } {
  const n = bothYes + firstOnly + secondOnly + bothNo;
  const p1 = (bothYes + firstOnly) / n;
  const p2 = (bothYes + secondOnly) / n;
  const one = wilson(bothYes + firstOnly, n, confidence);
  const two = wilson(bothYes + secondOnly, n, confidence);
  const margins =
    (bothYes + firstOnly) * (secondOnly + bothNo) * (bothYes + secondOnly) * (firstOnly + bothNo);
  const cross = bothYes * bothNo - firstOnly * secondOnly;
  const numerator = cross > 0 ? Math.max(0, cross - n / 2) : cross;
  const phi = margins === 0 ? 0 : numerator / Math.sqrt(margins);
  const below = (p1 - one.low) ** 2 + (two.high - p2) ** 2 - 2 * phi * (p1 - one.low) * (two.high - p2);
  const above = (one.high - p1) ** 2 + (p2 - two.low) ** 2 - 2 * phi * (one.high - p1) * (p2 - two.low);
  return {
    difference: p1 - p2,
    low: p1 - p2 - Math.sqrt(Math.max(0, below)),
    high: p1 - p2 + Math.sqrt(Math.max(0, above)),
  };
}

const ratio = (x: number, n: number): number => (n === 0 ? 0 : x / n);
const mean = (values: readonly number[]): number =>
  ratio(
    values.reduce((sum, x) => sum + x, 0),
    values.length,
  );
const total = <K extends string>(rows: readonly Record<K, number>[], key: K): number =>
  rows.reduce((sum, row) => sum + row[key], 0);
const sameSet = (a: readonly Label[], b: readonly Label[]): boolean =>
  a.length === b.length && a.every((label) => b.includes(label));

function sortedLabels(labels: readonly Label[]): Label[] {
  return [...new Set(labels)].sort((a, b) =>
    typeof a === 'number' && typeof b === 'number' ? a - b : String(a) < String(b) ? -1 : 1,
  );
}

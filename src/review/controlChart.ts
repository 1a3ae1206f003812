export type ChartLimits = { readonly low: number; readonly high: number };

export type ProportionChart = {
  readonly centre: number;
  /** One pair of limits for each sample. */
  readonly limits: readonly ChartLimits[];
  /** One-based positions of the samples outside. */
  readonly outside: readonly number[];
};

/**
 * Chart of proportions: p̄ ± 3 √(p̄(1 − p̄)/n), the low limit cut at 0. Only a picture by month, and only where n p̄ is
 * about 5 or more; below that the normal limits are wrong. Source: NIST/SEMATECH e-Handbook, 6.3.3.2.
 */
export function proportionChart(events: readonly number[], sizes: readonly number[]): ProportionChart {
  const all = sizes.reduce((sum, n) => sum + n, 0);
  const centre = all === 0 ? 0 : events.reduce((sum, x) => sum + x, 0) / all;
  const limits = sizes.map((n) => {
    const reach = n === 0 ? 1 : 3 * Math.sqrt((centre * (1 - centre)) / n);
    return { low: Math.max(0, centre - reach), high: Math.min(1, centre + reach) };
  });
  const outside: number[] = [];
  events.forEach((x, at) => {
    const { low, high } = limits[at]!;
    const n = sizes[at]!;
    if (n > 0 && (x / n > high || x / n < low)) outside.push(at + 1);
  });
  return { centre, limits, outside };
}

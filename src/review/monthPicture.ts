import type { ChartLimits } from './controlChart.ts';
import { proportionChart } from './controlChart.ts';
import { ALARM_TAIL, exactFunnelLimit } from './funnelLimits.ts';
import type { RemakeRates } from './remakeRates.ts';
import type { Trace } from './trace.ts';
import { countInWords, percent } from './words.ts';

type MonthPoint = {
  readonly month: string;
  readonly n: number;
  readonly rate: number;
  readonly limits: ChartLimits;
  readonly trace: Trace;
};

export type MonthPicture = {
  readonly centre: number;
  readonly points: readonly MonthPoint[];
  readonly caption: string;
  readonly inWords: string;
};

/** Below this many expected events the three-sigma limits are wrong and exact ones stand in. Our own choice. */
const FEWEST_EXPECTED = 5;

/**
 * Chart of return rates by month of hand-over: three-sigma limits where the month expects five or more, exact binomial
 * 99.8 % limits otherwise. Only a picture; whether the rate drifts is for the sum per pair to say.
 */
export function monthPicture(rates: RemakeRates): MonthPicture {
  const months = rates.groups.filter(({ ripe }) => ripe > 0).sort((a, b) => (a.group < b.group ? -1 : 1));
  const chart = proportionChart(
    months.map(({ remakes }) => remakes),
    months.map(({ ripe }) => ripe),
  );
  const points = months.map((month, at): MonthPoint => {
    const exact = month.ripe * chart.centre < FEWEST_EXPECTED && chart.centre > 0 && chart.centre < 1;
    const cut = (p: number): number =>
      Math.min(1, Math.max(0, exactFunnelLimit(chart.centre, month.ripe, p)));
    return {
      month: month.group,
      n: month.ripe,
      rate: month.rate.value,
      limits: exact ? { low: cut(ALARM_TAIL), high: cut(1 - ALARM_TAIL) } : chart.limits[at]!,
      trace: month.rate.trace,
    };
  });
  const outside = points.filter(({ rate, limits }) => rate > limits.high || rate < limits.low);
  return {
    centre: chart.centre,
    points,
    caption: `Middle line ${percent(chart.centre)} %; about 2 months in 1,000 lie outside by luck. ${rates.reasons}.`,
    inWords:
      outside.length === 0
        ? `No month of ${points.length} lies outside its limits.`
        : `Outside their limits: ${outside.map(({ month, trace }) => `${month} (${countInWords(trace.x!, trace.n, trace.interval!)})`).join('; ')}.`,
  };
}

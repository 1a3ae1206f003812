import type { Interval } from './oneRate.ts';

/** A share in percent for a sentence: whole from 10 % on, one decimal below. */
export function percent(share: number): string {
  const value = share * 100;
  return value >= 9.95 ? String(Math.round(value)) : value.toFixed(1).replace(/\.0$/, '');
}

/** "2.6 to 20 %" */
export function percentRange({ low, high }: Interval): string {
  return `${percent(Math.max(0, low))} to ${percent(Math.min(1, high))} %`;
}

/** "3 of 40, 7.5 % (2.6 to 20 %)"; at none: "none of 12 (up to 24 % would not surprise)". */
export function countInWords(x: number, n: number, interval: Interval): string {
  if (n === 0) return 'no pairs yet';
  if (x === 0) return `none of ${n} (up to ${percent(interval.high)} % would not surprise)`;
  return `${x} of ${n}, ${percent(x / n)} % (${percentRange(interval)})`;
}

/** Whole numbers rounded to what is known: 1,348 becomes "1,300". */
export function about(value: number): string {
  if (!Number.isFinite(value)) return 'no end of';
  const size = 10 ** Math.max(0, Math.floor(Math.log10(Math.max(1, value))) - 1);
  return String(Math.round(value / size) * size).replace(/\B(?=(\d{3})+$)/g, ',');
}

/** "1 pair", "23 pairs" */
export const pairsInWords = (n: number): string => (n === 1 ? '1 pair' : `${n} pairs`);

import { ACT_SETTINGS, type ActSettings } from './catalogue/acts.ts';
import type { RankedCause } from './rank.ts';

export type BenchRow = {
  readonly caseId: string;
  readonly danger: boolean;
  /** What it is expected to cost to do nothing until the nearer deadline. */
  readonly costOfNothing: number;
  readonly costOfBestAct: number;
  /** Days until the nearer deadline; absent where none runs. */
  readonly daysLeft?: number | undefined;
};

export type OrderedBenchRow = BenchRow & { readonly worthADay: number };

/** Days that a case without a deadline is given, so that it stands behind those whose window closes sooner. */
const DAYS_WITHOUT_DEADLINE = 60;

/**
 * The bench, most pressing first: danger, then (cost of doing nothing until the deadline - cost of the best act) / days
 * left. On or past the deadline a day is counted as half a day, so that the last hours press most. Equal rows keep their
 * order.
 */
export const orderBench = (rows: readonly BenchRow[]): readonly OrderedBenchRow[] =>
  rows
    .map((row) => ({ ...row, worthADay: worthADay(row) }))
    .sort((a, b) => Number(b.danger) - Number(a.danger) || b.worthADay - a.worthADay);

const worthADay = ({ costOfNothing, costOfBestAct, daysLeft = DAYS_WITHOUT_DEADLINE }: BenchRow): number =>
  (costOfNothing - costOfBestAct) / Math.max(0.5, daysLeft);

/**
 * What it is expected to cost to leave the case alone: cost of a miss x (1 - share of causes that pass by themselves x
 * the chance that they do). Common practice, no source.
 */
export const costOfNothing = (
  ranking: readonly RankedCause[],
  settings: ActSettings = ACT_SETTINGS,
): number => {
  const passes = ranking.reduce((sum, { cause, share }) => sum + share * (PASSES_ALONE[cause.id] ?? 0), 0);
  return settings.missCost * (1 - passes);
};

const PASSES_ALONE: Readonly<Record<string, number>> = {
  'early-adaptation': 0.7,
  'viewing-habit': 0.35,
  'cyl-change-not-adapted': 0.4,
  'rx-change-large': 0.4,
  'base-curve-change': 0.4,
  'lower-zone-on-steps': 0.4,
  'normal-fade-time': 0.3,
  'cold-slow-clear': 0.3,
  'hot-weather-limit': 0.3,
  'low-uv-light': 0.3,
};

import type { Interval } from './oneRate.ts';

/** Where a number comes from; every number of the review carries one. */
export type Trace = {
  /** The method by its name, with its settings. */
  readonly method: string;
  /** Pairs with the event; absent where nothing is counted, as for a mean. */
  readonly x?: number;
  readonly n: number;
  readonly interval?: Interval;
  /** The pairs with the event, or all of them where nothing is counted. */
  readonly pairIds: readonly string[];
  /** All pairs that the number is out of. */
  readonly amongPairIds: readonly string[];
};

export type Figure = { readonly value: number; readonly trace: Trace };

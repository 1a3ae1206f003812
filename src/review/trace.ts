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

/** Pairs behind a number: how many, and who when somebody asks. */
export type Behind = { readonly count: number; readonly ids: () => readonly string[] };

/**
 * A trace that lists its pairs only when they are asked for: a page of a big shop has hundreds of numbers, each out of
 * tens of thousands of pairs, and opens one of them.
 */
export function countedTrace(method: string, back: Behind, among: Behind, interval?: Interval): Trace {
  return {
    method,
    x: back.count,
    n: among.count,
    ...(interval === undefined ? {} : { interval }),
    get pairIds() {
      return back.ids();
    },
    get amongPairIds() {
      return among.ids();
    },
  };
}

/** How much of a suite is played: the whole of it by `npm run faults`, a short piece of the same in `npm test`. */
export type FaultSize = 'whole' | 'short';

/** What a suite counted, and every promise that it saw broken: empty means that all held. */
export type FaultTold = {
  readonly figures: Readonly<Record<string, number | string>>;
  readonly broken: readonly string[];
};

export type FaultWorld = {
  /** A fresh, migrated database on the test server, and how it is thrown away. */
  database(): Promise<{ readonly url: string; drop(): Promise<void> }>;
  readonly seed: number;
};

/** One kind of fault, played against a shop. Each stands in a file of its own and in the list of `suites.ts`. */
export type FaultSuite = {
  readonly name: string;
  /** One sentence: what is done to the shop, and what must hold all the same. */
  readonly says: string;
  run(world: FaultWorld, size: FaultSize): Promise<FaultTold>;
};

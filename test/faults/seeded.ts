/** A small generator of numbers that are the same for the same seed (mulberry32, public domain). */
export type Chance = {
  /** From 0 up to, and without, 1. */
  next(): number;
  below(limit: number): number;
  pick<T>(from: readonly T[]): T;
  happens(chance: number): boolean;
};

export function seeded(seed: number): Chance {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return {
    next,
    below: (limit) => Math.floor(next() * limit),
    pick: (from) => from[Math.floor(next() * from.length)]!,
    happens: (chance) => next() < chance,
  };
}

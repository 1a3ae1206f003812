/** Numbers from a seed (mulberry32, after a public-domain generator): the same seed plays the same shop. */
export type Seeded = {
  /** At least 0, under 1. */
  next(): number;
  pick<T>(from: readonly T[]): T;
  /** A step of `step` between two bounds, both included. */
  between(least: number, most: number, step: number): number;
};

export function seeded(seed: number): Seeded {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  return {
    next,
    pick: (from) => from[Math.floor(next() * from.length)]!,
    between: (least, most, step) =>
      Math.round((least + Math.floor(next() * (Math.round((most - least) / step) + 1)) * step) * 100) / 100,
  };
}

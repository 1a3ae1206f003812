/** The only door to the time of day. Everything else is handed a clock, so that a year can be played in seconds. */
export type Clock = { now(): Date };

export const systemClock: Clock = { now: () => new Date() };

/** A clock that stands until it is moved: for tests and for the invented shop. It never goes back by itself. */
export type MovableClock = Clock & { moveTo(instant: Date): void };

export function standingClock(start: Date): MovableClock {
  let at = start.getTime();
  return {
    now: () => new Date(at),
    moveTo(instant) {
      at = instant.getTime();
    },
  };
}

/** The system clock moved by a kept distance: the invented shop's clock runs on, but can be put forward. */
export type OffsetClock = Clock & { offsetMs(): number; setOffsetMs(ms: number): void };

export function offsetClock(base: Clock, startOffsetMs: number): OffsetClock {
  let offset = startOffsetMs;
  return {
    now: () => new Date(base.now().getTime() + offset),
    offsetMs: () => offset,
    setOffsetMs(ms) {
      offset = ms;
    },
  };
}

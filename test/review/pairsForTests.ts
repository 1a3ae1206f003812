import type { FinishedPair, LookState } from '../../src/review/pairs.ts';

/** A small seeded source of chance (mulberry32), so that a failing run can be run again. */
export function chance(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A standard normal from two uniforms (Box, Muller). */
export const normal = (next: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());

export const TODAY = 10_000;
let count = 0;

/** An invented pair, handed over so long ago that it is ripe, settled on the second look; name what matters. */
export function pair(given: Partial<FinishedPair> = {}): FinishedPair {
  count += 1;
  const handedOverDay = given.handedOverDay ?? TODAY - 100;
  return {
    pairId: `pair-${String(count).padStart(6, '0')}`,
    jobNumber: `job-${count}`,
    design: 'Design A',
    material: 'index 1.60',
    lightReactiveGrade: null,
    wrapClass: 'flat',
    depthClass: 'deep',
    addBand: 'up to 1.75',
    firstWearer: true,
    measuredBy: 'person 1',
    measuredHow: 'photo',
    soldBy: 'person 2',
    lab: 'lab 1',
    month: '2026-01',
    handedOverDay,
    endedDay: handedOverDay + 14,
    outcome: 'settled',
    looks: looks('not yet', 'settled', 'not due'),
    ...given,
  };
}

export const looks = (day7: LookState, day14: LookState, day30: LookState): FinishedPair['looks'] => ({
  7: day7,
  14: day14,
  30: day30,
});

/** A pair that came back `afterDays` after its hand-over. */
export function backPair(
  outcome: 'remade in the same design' | 'exchanged' | 'refunded',
  afterDays: number,
  given: Partial<FinishedPair> = {},
): FinishedPair {
  const handedOverDay = given.handedOverDay ?? TODAY - 100;
  return pair({
    outcome,
    endedDay: handedOverDay + afterDays,
    reason: 'settling',
    looks: looks('not yet', 'not yet', 'not due'),
    ...given,
  });
}

/** `n` ripe pairs of which `back` came back, alike in all else. */
export function pairsWith(n: number, back: number, given: Partial<FinishedPair> = {}): FinishedPair[] {
  return Array.from({ length: n }, (_, at) =>
    at < back ? backPair('remade in the same design', 20, given) : pair(given),
  );
}

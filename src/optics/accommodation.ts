/**
 * Amplitude of accommodation by Hofstetter's lines, dioptres: least 15 - 0.25 age, mean 18.5 - 0.3 age, greatest
 * 25 - 0.4 age, floored at 0. Drawn from early data with sizeable error; past 50 treat them as upper bounds.
 * Source: Hofstetter 1950 as given in public reference pages; advanced binocular vision practice question.
 */
export const hofstetter = (ageYears: number) => ({
  minimumD: Math.max(0, 15 - 0.25 * ageYears),
  meanD: Math.max(0, 18.5 - 0.3 * ageYears),
  maximumD: Math.max(0, 25 - 0.4 * ageYears),
});

/**
 * Mean amplitude by Donders' table, dioptres, straight line between its rows; outside 10 to 75 the nearest row.
 * Source: student notes with Donders' table for 40 to 65 (read); other rows from memory.
 */
export const dondersD = (ageYears: number): number => {
  let from = DONDERS[0] as readonly [number, number];
  for (const to of DONDERS) {
    if (ageYears <= to[0]) {
      const step = to[0] - from[0];
      const share = step === 0 ? 0 : Math.max(0, (ageYears - from[0]) / step);
      return from[1] + share * (to[1] - from[1]);
    }
    from = to;
  }
  return from[1];
};

const DONDERS: readonly (readonly [ageYears: number, amplitudeD: number])[] = [
  [10, 14],
  [15, 12],
  [20, 10],
  [25, 8.5],
  [30, 7],
  [35, 5.5],
  [40, 4.5],
  [45, 3.5],
  [50, 2.5],
  [55, 1.75],
  [60, 1],
  [65, 0.5],
  [70, 0.25],
  [75, 0],
];

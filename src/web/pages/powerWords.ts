/** A power as it is written: sphere, then cylinder and axis where there is a cylinder; two places, true signs. */
export const powerWords = ([sphere, cylinder, axis]: readonly [number, number, number]): string =>
  cylinder === 0 ? signed(sphere) : `${signed(sphere)} ${signed(cylinder)} × ${axis}`;

const signed = (power: number): string => `${power < 0 ? '−' : '+'}${Math.abs(power).toFixed(2)}`;

/**
 * Light-reactive tint against time, first order in optical density D = log10(clear / T). A model for pictures and
 * plain talk: real dyes fade in more than one stage and age, so it is never evidence of a fault by itself. Inputs must
 * come from the design's data at a stated temperature. Model from memory; Moon 2020 reports half-lives.
 */

/** Transmittance, per cent, t seconds into sun: D = Deq (1 - e^(-t/τ)). */
export const darkeningPercent = (
  clearPercent: number,
  equilibriumPercent: number,
  timeConstantS: number,
  timeS: number,
): number =>
  atDensity(clearPercent, density(clearPercent, equilibriumPercent) * (1 - Math.exp(-timeS / timeConstantS)));

/** Transmittance, per cent, t seconds after coming in: D = D0 2^(-t / half-life). */
export const fadingPercent = (
  clearPercent: number,
  darkPercent: number,
  halfLifeS: number,
  timeS: number,
): number => atDensity(clearPercent, density(clearPercent, darkPercent) * 2 ** (-timeS / halfLifeS));

/**
 * Seconds until a lens that comes in dark passes a limit, per cent: half-life × log2(D0 / Dlimit). 0 when it passes
 * already; endless when the clear state never passes it.
 */
export const timeToFadeS = (
  clearPercent: number,
  darkPercent: number,
  halfLifeS: number,
  limitPercent: number,
): number => {
  if (darkPercent >= limitPercent) return 0;
  const limitDensity = density(clearPercent, limitPercent);
  if (limitDensity <= 0) return Number.POSITIVE_INFINITY;
  return halfLifeS * Math.log2(density(clearPercent, darkPercent) / limitDensity);
};

/**
 * Steady tint, per cent, with a share (0 to 1) of the activating light of open sun: the share multiplies the optical
 * density, not the transmittance. Crude, since dyes saturate: for a picture, never evidence.
 */
export const partlyActivatedPercent = (clearPercent: number, outdoorPercent: number, share: number): number =>
  atDensity(clearPercent, density(clearPercent, outdoorPercent) * share);

/**
 * Response ratio faded / darkened; a lens counts as photochromic from 1.25. Per cent in, both at 23 °C.
 * Source: definition in a test-house note on the standards; 1.25 in ISO 8980-3 (from memory).
 */
export const responseRatio = (fadedPercent: number, darkenedPercent: number) => {
  const ratio = fadedPercent / darkenedPercent;
  return { ratio, isPhotochromic: ratio >= 1.25 - 1e-9 };
};

/** Optical density added to the clear state: log10(clear / T). */
export const density = (clearPercent: number, percent: number): number => Math.log10(clearPercent / percent);
const atDensity = (clearPercent: number, added: number): number => clearPercent * 10 ** -added;

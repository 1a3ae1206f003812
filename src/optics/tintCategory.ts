/**
 * Filter category of a luminous transmittance, per cent: 0 over 80, 1 over 43 to 80, 2 over 18 to 43, 3 over 8 to 18,
 * 4 over 3 to 8; `null` at 3 and below or over 100. Each band is over its lower limit, up to and including the upper.
 * Source: College of Optometrists (UK), tints and driving, quoting BS EN ISO 12312-1:2013.
 */
export const tintCategory = (transmittancePercent: number): 0 | 1 | 2 | 3 | 4 | null => {
  if (transmittancePercent > 100 || !(transmittancePercent > 3)) return null;
  if (transmittancePercent > 80) return 0;
  if (transmittancePercent > 43) return 1;
  if (transmittancePercent > 18) return 2;
  return transmittancePercent > 8 ? 3 : 4;
};

/** Least transmittance for driving at dusk or night, per cent. Source: as `tintCategory`; ISO 14889 / 8980-3. */
export const NIGHT_DRIVING_PERCENT = 75;

export type DrivingFitness = {
  readonly day: boolean;
  readonly twilightOrNight: boolean;
  readonly words: string;
};

/**
 * May this state of tint be driven in? By day in categories 0 to 3 (colour conditions apart, `roadColour`), at twilight
 * or night from 75 per cent. A mirror or coating that lowers the clear state counts: measure the finished lens. Local
 * rules come first. Source: College of Optometrists (UK), quoting BS EN ISO 12312-1:2013.
 */
export const drivingFitness = (transmittancePercent: number): DrivingFitness => {
  const category = tintCategory(transmittancePercent);
  const day = category !== null && category <= 3;
  const twilightOrNight = day && transmittancePercent >= NIGHT_DRIVING_PERCENT;
  return { day, twilightOrNight, words: drivingWords(day, twilightOrNight) };
};

/**
 * Colour condition for road use: spectral transmittance from 475 to 650 nm not under 0.2 × luminous, per cent. The
 * signal quotients (0.8 red, 0.6 yellow, green, blue) stand beside it and are the lens maker's to certify.
 * Source: as `drivingFitness`.
 */
export const roadColour = (transmittancePercent: number, leastSpectralPercent: number) => {
  const requiredPercent = 0.2 * transmittancePercent;
  return { requiredPercent, within: leastSpectralPercent >= requiredPercent - 1e-9 };
};

const drivingWords = (day: boolean, night: boolean): string => {
  if (!day) return 'not for driving';
  return night ? 'may be driven in by day and night' : 'not for driving at dusk or night';
};

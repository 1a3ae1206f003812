/**
 * Transverse chromatic aberration: prism / V number, prism dioptres. Source: M. Jalie; ABO advanced study guide, 3.3.
 */
export const colourFringePd = (prismPd: number, abbe: number): number => Math.abs(prismPd) / abbe;

/**
 * How far from the optical centre colour fringes reach the notice level: 10 × threshold × V / |F|, mm; endless without
 * power. Source: as `colourFringePd`, solved with Prentice's rule.
 */
export const fringeFreeRadiusMm = (powerD: number, abbe: number, thresholdPd = FRINGE_NOTICED_PD): number =>
  (10 * thresholdPd * abbe) / Math.abs(powerD);

/** Fringes are usually noticed from here, prism dioptres. Source: Jalie (from memory). */
const FRINGE_NOTICED_PD = 0.1;

/**
 * Refractive index and V number of kinds of lens material, no trade names. Source: materials tables of trade study
 * guides; the V number of crown glass from memory.
 */
export const LENS_MATERIALS = [
  { name: 'standard resin (allyl diglycol carbonate)', index: 1.498, abbe: 58 },
  { name: 'crown glass', index: 1.523, abbe: 59 },
  { name: 'urethane-urea', index: 1.53, abbe: 44 },
  { name: 'mid index resin', index: 1.56, abbe: 37 },
  { name: 'polycarbonate', index: 1.586, abbe: 30 },
  { name: '1.60 resin', index: 1.6, abbe: 41 },
  { name: '1.67 resin', index: 1.67, abbe: 32 },
  { name: '1.74 resin', index: 1.74, abbe: 33 },
] as const;

export const radians = (deg: number): number => (deg * Math.PI) / 180;
export const degrees = (rad: number): number => (rad * 180) / Math.PI;

/**
 * An axis or meridian brought into 0 < axis <= 180, degrees. 0 and 180 are the same line; the trade writes 180.
 * Source: ISO 8429 (degrees counter-clockwise as seen facing the wearer, the same sense for both eyes).
 */
export const asAxis = (deg: number): number => {
  const turned = deg - 180 * Math.floor(deg / 180);
  // A hair above 0 is 180 written with rounding: 1e-9 degrees is far below any lensmeter.
  return turned < 1e-9 || turned >= 180 ? 180 : turned;
};

/**
 * The smaller angle between two axes, degrees, 0 to 90. Axes are lines and not arrows, so 178 and 2 are 4 apart.
 * Source: geometry; ISO 8429 for the notation.
 */
export const axisDifferenceDeg = (oneDeg: number, otherDeg: number): number => {
  const apart = Math.abs(asAxis(oneDeg) - asAxis(otherDeg));
  return Math.min(apart, 180 - apart);
};

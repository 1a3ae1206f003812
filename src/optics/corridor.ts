/**
 * Clear width of a corridor of length L, mm: w = a L / add, where a is the astigmatism allowed at its edge (dioptres).
 * Minkwitz: across the umbilical line surface astigmatism grows at twice the power gradient add / L. Holds close to
 * the line only and for a linear rise; modern designs bend it, so compare designs by ratio and do not print it as a
 * true width. Full width, edge to edge. Source: Minkwitz's theorem (J Opt Soc Am A 2017, arXiv 2007.02710); 1.4 mm at
 * 14 mm and add 2.50 printed by N. Peaper, Insight News, which fits a = 0.25 D.
 */
export const corridorWidthMm = (addD: number, corridorMm: number, astigmatismLimitD = 0.5): number =>
  (astigmatismLimitD * corridorMm) / addD;

/** Rise of power down the corridor, add / L, dioptres per mm (linear law). Source: as `corridorWidthMm`. */
export const powerGradientDPerMm = (addD: number, corridorMm: number): number => addD / corridorMm;

/** Rise of astigmatism across the corridor, 2 add / L, dioptres per mm. Source: as `corridorWidthMm`. */
export const astigmatismGradientDPerMm = (addD: number, corridorMm: number): number =>
  2 * powerGradientDPerMm(addD, corridorMm);

/**
 * Astigmatism met x mm off the line of the corridor (a monocular PD error, say): 2 (add / L) |x|, dioptres.
 * Source: as `corridorWidthMm`.
 */
export const astigmatismOffAxisD = (addD: number, corridorMm: number, offAxisMm: number): number =>
  astigmatismGradientDPerMm(addD, corridorMm) * Math.abs(offAxisMm);

/**
 * Power at a depth below the start of the progression, linear law: distance power above it, distance + add below its
 * end. Dioptres, mm. Real designs rise on a curve. Source: Optician (UK) CPD archive 158.
 */
export const powerDownCorridorD = (
  distanceD: number,
  addD: number,
  corridorMm: number,
  belowStartMm: number,
): number => distanceD + addD * Math.min(1, Math.max(0, belowStartMm / corridorMm));

/**
 * Longest corridor that still leaves a reading area in this frame: fitting height - reading area (4 to 5 mm), mm.
 * Fitting height from the lowest point of the lens under the cross. Source: trade journal CE item, Nov 2015; fitting
 * height after BS EN ISO 13666 in Jalie, Optician (UK), progressive lenses part 7.
 */
export const longestCorridorMm = (fittingHeightMm: number, readingAreaMm = READING_AREA_MM): number =>
  fittingHeightMm - readingAreaMm;

export const READING_AREA_MM = 4;

/**
 * Near zone left inside the rim: fitting height - corridor, mm; and how far the height falls short of the design's
 * minimum (negative is room to spare; `null` where the design's minimum is not known). Corridors are measured in
 * different ways (to the middle or the top of the near circle), so the lens book must say how.
 * Source: subtraction; the minimum fitting height is a datum of the design.
 */
export const nearZoneLeft = (
  fittingHeightMm: number,
  corridorMm: number,
  minimumHeightMm: number | null,
) => ({
  nearZoneMm: fittingHeightMm - corridorMm,
  shortfallMm: minimumHeightMm === null ? null : minimumHeightMm - fittingHeightMm,
});

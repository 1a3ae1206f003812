/**
 * True power of a surface from a lens clock: reading × (n - 1) / (n0 - 1), dioptres. n0 is the index that the clock is
 * made for: 1.530 on most, 1.523 on some, so it is an input.
 * Source: ABO study page on lens clock conversion (1.523); D. Meister, practice master exam (1.530).
 */
export const surfacePowerFromClockD = (readingD: number, materialIndex: number, clockIndex: number): number =>
  (readingD * (materialIndex - 1)) / (clockIndex - 1);

/**
 * Curve variation factor: (reference index - 1) / (n - 1), ratio. How much flatter the curves are than in the reference
 * material (crown glass 1.523 unless said) for the same power. Source: definition in dispensing texts (from memory).
 */
export const curveVariationFactor = (index: number, referenceIndex = 1.523): number =>
  (referenceIndex - 1) / (index - 1);

export type LensForm = 'meniscus' | 'biconvex' | 'biconcave' | 'plano-convex' | 'plano-concave';

/**
 * Nominal (thin) power from the radii, metres, written without sign, and the form: (n - 1)(1/r1 ± 1/r2), dioptres. In a
 * meniscus the front bulges (plus) and the back hollows (minus). A flat side is `null`.
 * Source: thin lens maker's formula, textbook (from memory).
 */
export const nominalPowerD = (
  form: LensForm,
  frontRadiusM: number | null,
  backRadiusM: number | null,
  index: number,
): number => {
  const frontSign = form === 'biconcave' || form === 'plano-concave' ? -1 : 1;
  const backSign = form === 'biconvex' || form === 'plano-convex' ? 1 : -1;
  return frontSign * curved(frontRadiusM, index) + backSign * curved(backRadiusM, index);
};

/**
 * Radius r = 1000 (n - 1) / F in mm and sag over a diameter in mm: the short rule y² / 2r, and the true r - √(r² - y²)
 * (`null` where the lens is wider than its sphere). The short rule runs low, by 8 % at 6 D and 50 mm and n 1.53.
 * Source: ABO advanced study guide, section 3.2 (short rule, printed numbers reproduced).
 */
export const sagitta = (surfaceD: number, index: number, diameterMm: number) => {
  const radiusMm = (1000 * (index - 1)) / surfaceD;
  const half = diameterMm / 2;
  const size = Math.abs(radiusMm);
  return {
    radiusMm,
    sagMm: half ** 2 / (2 * radiusMm),
    exactSagMm: half > size ? null : Math.sign(radiusMm) * (size - Math.sqrt(size ** 2 - half ** 2)),
  };
};

/**
 * Mean power and astigmatism of a surface at a point from its two principal powers, dioptres: (F1 + F2) / 2 and
 * |F1 - F2|. Source: textbook definition (from memory).
 */
export const surfaceAtPoint = (principalPower1D: number, principalPower2D: number) => ({
  meanD: (principalPower1D + principalPower2D) / 2,
  astigmatismD: Math.abs(principalPower1D - principalPower2D),
});

/**
 * Base curve guide: mean power + 6 for plus and plano, half the mean power + 6 for minus, dioptres. A starting point for
 * single vision of ordinary index; a maker's chart comes first. Source: Vogel's rule in the ABO advanced study guide.
 */
export const vogelBaseCurveD = (meanPowerD: number): number =>
  meanPowerD >= 0 ? meanPowerD + 6 : meanPowerD / 2 + 6;

const curved = (radiusM: number | null, index: number): number =>
  radiusM === null || !Number.isFinite(radiusM) ? 0 : (index - 1) / Math.abs(radiusM);

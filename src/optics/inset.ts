/**
 * Near PD on the lens plane, mm: NPD = D - D / (1 + W (1/s - F/1000)), D distance PD, W working distance from the
 * lens and s lens to the eye's centre of rotation, both mm, F power along 180 in dioptres. Plus lenses want more
 * inset, minus less. Works for one eye with the monocular PD. Thin lens, object on the midline.
 * Source: sci.med.vision thread on near PD with worked numbers (R. Martellaro).
 */
export const nearPdMm = (
  distancePdMm: number,
  workingDistanceMm: number,
  power180D: number,
  stopDistanceMm = 27,
): number => distancePdMm - insetMm(distancePdMm, workingDistanceMm, power180D, stopDistanceMm);

/** Inset of the near point of one eye (monocular PD) or both (whole PD), mm. Source: as `nearPdMm`. */
export const insetMm = (
  pdMm: number,
  workingDistanceMm: number,
  power180D: number,
  stopDistanceMm = 27,
): number => pdMm / (1 + workingDistanceMm * (1 / stopDistanceMm - power180D / 1000));

/**
 * Rule of thumb: 0.75 mm of inset per eye for each dioptre of working distance. Source: ABO exam glossary,
 * Gerstman's three-quarter rule.
 */
export const insetByRuleMm = (workingDistanceCm: number): number => 0.75 * (100 / workingDistanceCm);

/** What designs inset by when nothing is ordered, mm per eye, often. Source: trade texts. */
export const USUAL_DESIGN_INSET_MM = 2.5;

/** What sets the size of the image through one lens. */
export type ImageLens = {
  readonly frontSurfaceD: number;
  readonly centreThicknessMm: number;
  readonly index: number;
  readonly backVertexPowerD: number;
  readonly vertexMm: number;
};

/** Entrance pupil of the eye behind the cornea, mm, about. Source: study pages and forum texts on magnification. */
export const ENTRANCE_PUPIL_BEHIND_CORNEA_MM = 3;

/**
 * Spectacle magnification: shape factor 1 / (1 - (t/n) F1) times power factor 1 / (1 - h Fv), h from the back of the
 * lens to the entrance pupil (vertex + about 3 mm), metres inside. Ratio and per cent; + is larger. First-order; good
 * to about a tenth of a per cent. Texts that take h as the bare vertex distance get smaller power factors.
 * Source: public study pages on spectacle magnification; ABO advanced study guide, section 3.2.
 */
export const spectacleMagnification = (
  lens: ImageLens,
  entrancePupilMm: number = ENTRANCE_PUPIL_BEHIND_CORNEA_MM,
) => {
  const shape = shapeFactor(lens.frontSurfaceD, lens.centreThicknessMm, lens.index);
  const power = powerFactor(lens.backVertexPowerD, lens.vertexMm + entrancePupilMm);
  return { shapeFactor: shape, powerFactor: power, percent: percentFrom(shape * power) };
};

/** Shape factor 1 / (1 - (t/n) F1), ratio. Source: as `spectacleMagnification`. */
export const shapeFactor = (frontSurfaceD: number, centreThicknessMm: number, index: number): number =>
  1 / (1 - (centreThicknessMm / 1000 / index) * frontSurfaceD);

/** Power factor 1 / (1 - h Fv) for a distance h in mm, ratio. Source: as `spectacleMagnification`. */
export const powerFactor = (backVertexPowerD: number, distanceMm: number): number =>
  1 / (1 - (distanceMm / 1000) * backVertexPowerD);

/** Difference of image size, the first against the second, per cent: (first / second - 1) × 100. */
export const imageDifferencePercent = (
  first: ImageLens,
  second: ImageLens,
  entrancePupilMm: number = ENTRANCE_PUPIL_BEHIND_CORNEA_MM,
): number => {
  const one = spectacleMagnification(first, entrancePupilMm);
  const other = spectacleMagnification(second, entrancePupilMm);
  return percentFrom((one.shapeFactor * one.powerFactor) / (other.shapeFactor * other.powerFactor));
};

/**
 * Image size after a change of front curve alone, new against old, per cent. Two dioptres at 2.2 mm make about 0.3 %:
 * real, and small in itself. Source: as `spectacleMagnification`.
 */
export const baseCurveChangePercent = (
  oldFrontD: number,
  newFrontD: number,
  centreThicknessMm: number,
  index: number,
): number =>
  percentFrom(
    shapeFactor(newFrontD, centreThicknessMm, index) / shapeFactor(oldFrontD, centreThicknessMm, index),
  );

/** Image size after a change of vertex distance alone, new against old, per cent. Source: as above. */
export const vertexChangePercent = (
  backVertexPowerD: number,
  oldVertexMm: number,
  newVertexMm: number,
  entrancePupilMm: number = ENTRANCE_PUPIL_BEHIND_CORNEA_MM,
): number =>
  percentFrom(
    powerFactor(backVertexPowerD, newVertexMm + entrancePupilMm) /
      powerFactor(backVertexPowerD, oldVertexMm + entrancePupilMm),
  );

/**
 * What a difference between the eyes means: under 1 % is unlikely to be felt (common practice, no source), 2 to 3 %
 * may trouble (public study page), 3.5 % and more hinders fusion (study cards).
 */
export const imageDifferenceWeight = (
  percent: number,
): 'unlikely' | 'possible' | 'likely' | 'hinders fusion' => {
  const size = Math.abs(percent);
  if (size < 1) return 'unlikely';
  if (size < 2) return 'possible';
  return size < 3.5 ? 'likely' : 'hinders fusion';
};

const percentFrom = (ratio: number): number => (ratio - 1) * 100;

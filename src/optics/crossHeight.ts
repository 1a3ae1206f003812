/**
 * What a fitting cross too high or too low does. `crossAbovePupilMm` = height as made - pupil height as worn, + above.
 * Too high by e: e/L of the add stands in straight-ahead gaze, if the rise starts at the cross and is linear (far
 * blurs, chin goes down). Too low: far stays clear, and the near zone lies e lower, so the eyes must go down or the
 * chin up by `chinUpDeg` more. Dioptres, mm, degrees; an estimate, since designs start their rise at different depths.
 * Source: subtraction and the linear power law; posture common practice, no source.
 */
export const crossTooHighOrLow = (
  madeHeightMm: number,
  pupilHeightMm: number,
  corridorMm: number,
  addD: number,
  lensToRotationCentreMm: number = LENS_TO_ROTATION_CENTRE_MM,
) => crossOffPupil(madeHeightMm - pupilHeightMm, corridorMm, addD, lensToRotationCentreMm);

/** The same from the error itself, mm, + cross above the pupil. */
export const crossOffPupil = (
  crossAbovePupilMm: number,
  corridorMm: number,
  addD: number,
  lensToRotationCentreMm: number = LENS_TO_ROTATION_CENTRE_MM,
) => ({
  crossAbovePupilMm,
  addInDistanceGazeD: addD * Math.min(1, Math.max(0, crossAbovePupilMm / corridorMm)),
  /** + the chin comes up to reach the near zone, - it goes down to look far under the rise of power. */
  chinUpDeg: gazeDepressionDeg(-crossAbovePupilMm, lensToRotationCentreMm),
  posture: postureFor(crossAbovePupilMm),
});

/**
 * How far the eye turns down to meet a point y mm below straight-ahead gaze: atan(y / s), degrees, s from lens to the
 * eye's centre of rotation, lens upright. Source: geometry.
 */
export const gazeDepressionDeg = (
  belowMm: number,
  lensToRotationCentreMm: number = LENS_TO_ROTATION_CENTRE_MM,
): number => (Math.atan(belowMm / lensToRotationCentreMm) * 180) / Math.PI;

/**
 * Can the near zone be reached in comfort? Its depth below straight-ahead gaze as an angle of the eye, for the vertex
 * distance as worn, and what is over the comfortable angle (0 or less: in comfort). Millimetres, degrees.
 * Source: geometry; rotation centre 14 mm behind the cornea, newsgroup figures; 30 degrees common practice, no source.
 */
export const gazeToNearZone = (nearZoneBelowMm: number, vertexMm: number) => {
  const depressionDeg = gazeDepressionDeg(nearZoneBelowMm, vertexMm + ROTATION_CENTRE_BEHIND_CORNEA_MM);
  return { depressionDeg, overComfortDeg: depressionDeg - COMFORTABLE_DEPRESSION_DEG };
};

/** The depth on the lens that a gaze angle reaches: s tan(angle), mm. Source: geometry. */
export const depthForGazeMm = (
  depressionDeg: number,
  lensToRotationCentreMm: number = LENS_TO_ROTATION_CENTRE_MM,
): number => lensToRotationCentreMm * Math.tan((depressionDeg * Math.PI) / 180);

/** Lens to the eye's centre of rotation, mm: 13 of vertex and 14 behind the cornea. Source: newsgroup figures, 25-27. */
export const LENS_TO_ROTATION_CENTRE_MM = 27;
/** From cornea to the eye's centre of rotation, mm, to be added to a measured vertex distance. Source: as above. */
const ROTATION_CENTRE_BEHIND_CORNEA_MM = 14;
/** Reading with the eyes turned down further than this is tiring, degrees. Common practice, no source. */
const COMFORTABLE_DEPRESSION_DEG = 30;

const postureFor = (crossAbovePupilMm: number): string => {
  if (crossAbovePupilMm >= 1) return 'chin down to see far';
  if (crossAbovePupilMm <= -1) return 'chin up to read, head back at a screen';
  return 'no change of posture expected';
};

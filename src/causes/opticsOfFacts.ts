import { hofstetter } from '../optics/accommodation.ts';
import { shareUsedAt, usualAddForAge } from '../optics/addNeeded.ts';
import { prismFromCentringError } from '../optics/centringError.ts';
import { clearRangeCm, comfortableReadingCm } from '../optics/clearRange.ts';
import { colourFringePd } from '../optics/colourFringe.ts';
import { differenceLens } from '../optics/differenceLens.ts';
import { ENTRANCE_PUPIL_BEHIND_CORNEA_MM, powerFactor } from '../optics/imageSize.ts';
import { insetMm, USUAL_DESIGN_INSET_MM } from '../optics/inset.ts';
import { martinSphere } from '../optics/lensTilt.ts';
import { isWithin, type LensKind, type Standard } from '../optics/limit.ts';
import { addLimit, checkPower } from '../optics/limits.ts';
import { powerAlongMeridianD } from '../optics/meridianPower.ts';
import { readingLevelImbalance } from '../optics/readingImbalance.ts';
import { type SpheroCyl, strongerMeridianD } from '../optics/spheroCyl.ts';
import { effectivePowerD } from '../optics/vertexCompensation.ts';
import type { FactPower } from './jobFacts.ts';

/** A power as a job carries it, as the optics room speaks of it. */
export const lensOf = ([sphereD, cylinderD, axisDeg]: FactPower): SpheroCyl => ({
  sphereD,
  cylinderD,
  axisDeg: axisDeg === 0 ? 180 : axisDeg,
});

/** Made minus asked: size of the whole difference, its mean power, and its cylinder, D. */
export const difference = (made: FactPower, asked: FactPower) => {
  const { lens, meanD, blurD } = differenceLens(lensOf(made), lensOf(asked));
  return { sizeD: blurD, meanD, cylinderD: Math.abs(lens.cylinderD) };
};

/** Whether sphere, cylinder and axis read within the standard's limits of what was asked. */
export const withinLimits = (made: FactPower, asked: FactPower, kind: LensKind, standard: Standard) => {
  const { sphere, cylinder, axis } = checkPower(lensOf(made), lensOf(asked), kind, standard);
  return { sphere: sphere.within, cylinder: cylinder.within, axis: axis?.within ?? true };
};

export const addWithinLimit = (errorD: number, orderedD: number, standard: Standard): boolean =>
  isWithin(errorD, addLimit(orderedD, standard));

export const powerAlong = (power: FactPower, meridianDeg: number): number =>
  powerAlongMeridianD(lensOf(power), meridianDeg);

export const strongestMeridian = (power: FactPower): number => strongerMeridianD(lensOf(power));

/** Usual addition of the age; none under 45, where none is usual. */
export const usualAdd = usualAddForAge;

/** Far end of clear sight through the addition, cm. */
export const farEndCm = (addD: number): number => clearRangeCm(addD, 0).farCm;

/** Nearest distance of comfortable reading at this age, cm. */
export const comfortableCm = (addD: number, ageYears: number): number =>
  comfortableReadingCm(addD, Math.max(0, hofstetter(ageYears).meanD), shareUsedAt(ageYears));

/** Vertical difference between right and left at the reading level, prism dioptres. */
export const readingImbalancePd = (right: FactPower, left: FactPower, belowMm: number): number =>
  Math.abs(readingLevelImbalance(lensOf(right), lensOf(left), belowMm).verticalPd);

/** Change of power at the eye from a lens worn at another vertex distance than assumed, D. */
export const vertexEffectD = (powerD: number, assumedMm: number, wornMm: number): number =>
  Math.abs(effectivePowerD(powerD, assumedMm, wornMm) - powerD);

/** Cylinder that a tilt adds to a sphere, D, at index 1.6. */
export const tiltCylinderD = (sphereD: number, tiltDeg: number): number =>
  Math.abs(martinSphere(sphereD, tiltDeg, 1.6, 'tilt').cylinderD);

/** Colour spread `awayMm` from the centre, prism dioptres: Prentice, then divided by the V number. */
export const fringePdAt = (powerD: number, awayMm: number, abbe: number): number =>
  colourFringePd((powerD * awayMm) / 10, abbe);

/** Difference of image size by the power factor alone, per cent: shape is left out where it is not known. */
export const imageDifferencePct = (right: FactPower, left: FactPower, vertexMm: number): number => {
  const size = ([sphereD, cylinderD]: FactPower) =>
    powerFactor(sphereD + cylinderD / 2, vertexMm + ENTRANCE_PUPIL_BEHIND_CORNEA_MM);
  return Math.abs(size(right) / size(left) - 1) * 100;
};

/** Imbalance from lenses whose centres stand `nasalMm` nasal and `aboveMm` above the pupils, prism dioptres. */
export const imbalanceFromPlace = (
  right: { readonly power: FactPower; readonly nasalMm: number; readonly aboveMm: number },
  left: { readonly power: FactPower; readonly nasalMm: number; readonly aboveMm: number },
) => {
  const eye = ({ power, nasalMm, aboveMm }: typeof right) => ({
    lens: lensOf(power),
    madePdMm: -nasalMm,
    wearerPdMm: 0,
    centreAbovePupilMm: aboveMm,
  });
  return prismFromCentringError(eye(right), eye(left));
};

/** How far the inset of one eye that this power and reading distance want is from the usual of a design, mm. */
export const insetOffMm = (power: FactPower, readingCm: number): number =>
  Math.abs(insetMm(USUAL_MONOCULAR_PD_MM, readingCm * 10, powerAlong(power, 180)) - USUAL_DESIGN_INSET_MM);

/** Common practice, no source. */
const USUAL_MONOCULAR_PD_MM = 31.5;

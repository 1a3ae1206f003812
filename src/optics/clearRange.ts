import { addForDistanceD } from './addNeeded.ts';

/**
 * Range of clear vision through an add: far end 1/add (endless without one), near end 1/(add + amplitude), cm from the
 * lens; far prescription right, whole amplitude used. Source: public worked answer, range of clear vision.
 */
export const clearRangeCm = (addD: number, amplitudeD: number) => ({
  farCm: addD > 0 ? 100 / addD : Number.POSITIVE_INFINITY,
  nearCm: addD + amplitudeD > 0 ? 100 / (addD + amplitudeD) : Number.POSITIVE_INFINITY,
});

/**
 * Where reading is comfortable through an add: 1/(add + share × amplitude), cm. An over-strong add pulls it close.
 * Source: Millodot, Dictionary of Optometry, 7th ed. 2009, "addition, near", solved for the distance.
 */
export const comfortableReadingCm = (addD: number, amplitudeD: number, shareUsed: number): number =>
  100 / (addD + shareUsed * amplitudeD);

/**
 * A screen against the add: is it inside the clear range, and which part of the add would suit it
 * (1/d - half the amplitude, dioptres; under 0 none is needed)? Source: as `comfortableReadingCm`, half share.
 */
export const screenThroughAdd = (addD: number, amplitudeD: number, screenCm: number) => {
  const { farCm, nearCm } = clearRangeCm(addD, amplitudeD);
  return {
    addWantedD: addForDistanceD(screenCm, amplitudeD, 0.5),
    farCm,
    nearCm,
    clearThroughFullAdd: screenCm <= farCm && screenCm >= nearCm,
  };
};

/**
 * Vergence left over by a short test room, dioptres: -1/distance in metres. A 3 m lane leaves the wearer 0.33 D short
 * at far unless it was allowed for. Source: Duane's Ophthalmology, ch. 51A, spectacle lens powers (Stephens, Davis).
 */
export const testRoomVergenceD = (chartM: number): number => -1 / chartM;

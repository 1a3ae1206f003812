import { dondersD } from './accommodation.ts';

/**
 * Add for a working distance: 1/WD - share × amplitude, dioptres. Under 0 means that no add is needed.
 * Source: Millodot, Dictionary of Optometry, 7th ed. 2009, "addition, near".
 */
export const addForDistanceD = (workingDistanceCm: number, amplitudeD: number, shareUsed: number): number =>
  100 / workingDistanceCm - shareUsed * amplitudeD;

/**
 * Share of the amplitude that is comfortable to use: two thirds under about 52 years, half at 52 and over.
 * Source: Millodot, as `addForDistanceD`.
 */
export const shareUsedAt = (ageYears: number): number => (ageYears < 52 ? 2 / 3 : 1 / 2);

/**
 * Adds usual for an age, dioptres; `null` under 45 years, where the source gives none. A guide to outliers only. An
 * age on an edge (50, 55) belongs to the older band; from 60 on 2.50 to 3.00.
 * Source: Millodot, as `addForDistanceD`.
 */
export const usualAddForAge = (
  ageYears: number,
): { readonly lowD: number; readonly highD: number } | null => {
  if (ageYears < 45) return null;
  if (ageYears < 50) return { lowD: 1, highD: 1.25 };
  if (ageYears < 55) return { lowD: 1.5, highD: 1.75 };
  if (ageYears < 60) return { lowD: 2, highD: 2.25 };
  return { lowD: 2.5, highD: 3 };
};

/** Add from a distance and a reading prescription: near sphere - distance sphere, dioptres. */
export const addFromPowersD = (distanceSphereD: number, nearSphereD: number): number =>
  nearSphereD - distanceSphereD;

export type AddJudgement = {
  readonly verdict: 'too weak' | 'about right' | 'too strong';
  readonly wantedD: number;
  /** Add ordered minus add wanted, dioptres. */
  readonly differenceD: number;
};

/**
 * Is the add right for this age and reading distance? Wanted add = 1/WD - share × Donders' amplitude; more than 0.50 D
 * apart is called too weak or too strong. Ask the working distance before saying so.
 * Source: Millodot's formula and Donders' table; the 0.50 D step is common practice, no source.
 */
export const judgeAdd = (addD: number, ageYears: number, workingDistanceCm = 40): AddJudgement => {
  const wantedD = Math.max(0, addForDistanceD(workingDistanceCm, dondersD(ageYears), shareUsedAt(ageYears)));
  const differenceD = addD - wantedD;
  return { verdict: verdictFor(differenceD), wantedD, differenceD };
};

/** How far an add may stand from the wanted one before it is called wrong, dioptres. Common practice, no source. */
const ADD_DIFFERENCE_NOTED_D = 0.5;

const verdictFor = (differenceD: number): AddJudgement['verdict'] => {
  if (differenceD > ADD_DIFFERENCE_NOTED_D + 1e-9) return 'too strong';
  return differenceD < -ADD_DIFFERENCE_NOTED_D - 1e-9 ? 'too weak' : 'about right';
};

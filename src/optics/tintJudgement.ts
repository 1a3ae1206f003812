import { drivingFitness, NIGHT_DRIVING_PERCENT } from './tintCategory.ts';
import {
  COLD_SLOWING,
  depthAtTemperature,
  depthShareAt,
  type TintGrade,
  type TintPlace,
} from './tintConditions.ts';

/** What an observation of a light-reactive lens says. A normal finding is explained, not remade. */
export type TintVerdict = {
  readonly verdict: 'normal' | 'fault' | 'cannot judge';
  readonly why: string;
  readonly source: string;
};

const PRACTICE = 'common practice, no source';

/** Dark in 30 to 45 s in open sun. Common practice, no source. */
export const DARK_WITHIN_S = { low: 30, high: 45 } as const;
/** "Clear" in 45 to 75 s is counter talk; real clearing goes on for minutes. Common practice, no source. */
export const CLEAR_WITHIN_S = { low: 45, high: 75 } as const;
/** Still clearly dark after this long at room temperature is a fault, minutes. Common practice, no source. */
const STILL_DARK_FAULT_MIN = 10;
/** A weak tint is not called a fault before this many sunny days. Common practice, no source. */
const SUNNY_DAYS_FIRST = 3;
/** A left lens may differ from the right by this share of the lighter one. From memory of ISO 14889: confirm. */
const PAIR_DIFFERENCE_SHARE = 0.2;

/**
 * A tint that seems too weak. Place first, then heat, then the first three sunny days; only a lens that stays pale in
 * open sun, cool enough and after those days is a fault. Celsius. Source of each step in the result.
 */
export const judgeDepth = (seen: {
  readonly place: TintPlace;
  readonly grade: TintGrade;
  readonly temperatureC?: number;
  readonly sunnyDaysWorn?: number;
  readonly darkensInOpenSun?: boolean;
}): TintVerdict => {
  if (seen.place !== 'open sun') {
    const { high, source } = depthShareAt(seen.place, seen.grade);
    // Clear in the car says nothing of the lens, unless it is known to stay clear in open sun as well.
    if (seen.darkensInOpenSun !== false) {
      const most = Math.round(high * 100);
      return { verdict: 'normal', why: `${seen.place}: at most about ${most} % of full depth`, source };
    }
  }
  if (seen.temperatureC !== undefined && depthAtTemperature(seen.temperatureC) === 'paler') {
    return {
      verdict: 'normal',
      why: `paler at ${seen.temperatureC} °C: heat undoes the tint`,
      source: PRACTICE,
    };
  }
  if (seen.sunnyDaysWorn !== undefined && seen.sunnyDaysWorn < SUNNY_DAYS_FIRST) {
    const why = `may go a little deeper over the first ${SUNNY_DAYS_FIRST} sunny days`;
    return { verdict: 'normal', why, source: PRACTICE };
  }
  if (seen.sunnyDaysWorn === undefined || seen.temperatureC === undefined) {
    return {
      verdict: 'cannot judge',
      why: 'temperature or number of sunny days not known',
      source: PRACTICE,
    };
  }
  if (depthAtTemperature(seen.temperatureC) === 'between') {
    return { verdict: 'cannot judge', why: 'warm: look again at 29 °C or below', source: PRACTICE };
  }
  return { verdict: 'fault', why: 'stays pale in open sun though cool and worn in', source: PRACTICE };
};

/**
 * A tint that is slow to clear. At room temperature clearly dark after 10 minutes is a fault; in the cold the time is
 * stretched by the slowing measured at 6 °C against 21 °C. Minutes, Celsius. Source: 10 minutes common practice, no
 * source; slowing Moon 2020 (abstract).
 */
export const judgeClearing = (seen: {
  readonly stillDarkAfterMin: number;
  readonly temperatureC?: number;
  readonly byWindow?: boolean;
}): TintVerdict => {
  if (seen.byWindow) {
    return { verdict: 'normal', why: 'daylight through a window keeps some tint', source: PRACTICE };
  }
  if (seen.stillDarkAfterMin < STILL_DARK_FAULT_MIN) {
    return { verdict: 'normal', why: 'clearing goes on for minutes', source: PRACTICE };
  }
  if (seen.temperatureC === undefined) {
    return {
      verdict: 'cannot judge',
      why: 'temperature not known: cold lenses clear slowly',
      source: PRACTICE,
    };
  }
  const allowedMin = STILL_DARK_FAULT_MIN * coldStretch(seen.temperatureC);
  if (seen.stillDarkAfterMin < allowedMin) {
    const why = `at ${seen.temperatureC} °C up to about ${Math.round(allowedMin)} minutes`;
    return { verdict: 'normal', why, source: 'Moon 2020 (abstract)' };
  }
  const why = `still clearly dark after ${seen.stillDarkAfterMin} minutes at ${seen.temperatureC} °C`;
  return { verdict: 'fault', why, source: PRACTICE };
};

/**
 * A tint that is slow to darken in open sun: most of the change comes in 30 to 45 s and the rest over minutes, so a
 * fault only where nothing much has happened after the design had several times that. Seconds.
 */
export const judgeDarkening = (secondsToDark: number): TintVerdict => {
  if (secondsToDark <= DARK_WITHIN_S.high) {
    return {
      verdict: 'normal',
      why: `dark in ${DARK_WITHIN_S.low} to ${DARK_WITHIN_S.high} s`,
      source: PRACTICE,
    };
  }
  if (secondsToDark <= 4 * DARK_WITHIN_S.high) {
    return { verdict: 'normal', why: 'the last part of the change takes minutes', source: PRACTICE };
  }
  return {
    verdict: 'fault',
    why: `not dark after ${Math.round(secondsToDark)} s in open sun`,
    source: PRACTICE,
  };
};

/**
 * Right against left in the same light, luminous transmittance in per cent. Unlike its fellow is a fault at any age of
 * the pair. Source: common practice, no source; the 20 % share from memory of ISO 14889.
 */
export const judgePair = (rightPercent: number, leftPercent: number): TintVerdict => {
  const lighter = Math.max(rightPercent, leftPercent);
  const share = lighter === 0 ? 0 : Math.abs(rightPercent - leftPercent) / lighter;
  const why = `right and left differ by ${Math.round(share * 100)} % of the lighter one`;
  return {
    verdict: share > PAIR_DIFFERENCE_SHARE + 1e-9 ? 'fault' : 'normal',
    why,
    source: 'ISO 14889 (from memory: confirm against your copy of the standard)',
  };
};

/**
 * What must be said of the clear state, per cent: under 75 "not for driving at dusk or night" (a mirror or a coating
 * can bring a lens there); `null` when nothing need be said.
 */
export const clearStateCaution = (clearPercent: number): string | null =>
  clearPercent < NIGHT_DRIVING_PERCENT ? drivingFitness(clearPercent).words : null;

/**
 * Blue-violet light held back, per cent, clear and dark, as counter talk has it: to check a claim at the counter,
 * never to be shown to wearers. Common practice, no source.
 */
export const BLUE_LIGHT_COUNTER_TALK = { lightReactive: [50, 70], clearFilter: [30, 50] } as const;

/** 1 at room temperature and above, 5.4 at 6 °C and below; straight on a log scale between. */
const coldStretch = (temperatureC: number): number => {
  const share = (COLD_SLOWING.warmC - temperatureC) / (COLD_SLOWING.warmC - COLD_SLOWING.coldC);
  return COLD_SLOWING.high ** Math.min(1, Math.max(0, share));
};

import { NIGHT_DRIVING_PERCENT } from './tintCategory.ts';
import { COLD_SLOWING, depthShareAt, type TintGrade, type TintPlace } from './tintConditions.ts';
import {
  darkeningPercent,
  density,
  fadingPercent,
  partlyActivatedPercent,
  timeToFadeS,
} from './tintKinetics.ts';

/** Light-reactive data of a design, at the stated temperature. */
export type TintData = {
  readonly clearPercent: number;
  readonly darkPercent: number;
  readonly darkeningTimeConstantS: number;
  readonly fadingHalfLifeS: number;
  readonly temperatureC: number;
  readonly grade: TintGrade;
  readonly source: string;
};

export type TintCurve = {
  /** Seconds from stepping into the light; transmittance in per cent. */
  readonly darkening: readonly TintPoint[];
  /** Seconds from coming in; starts where the darkening ended. */
  readonly clearing: readonly TintPoint[];
  readonly deepestPercent: number;
  /** Seconds after coming in until driving at dusk is allowed again; `null` when it never is. */
  readonly duskDrivingAfterS: number | null;
  readonly words: readonly string[];
};
export type TintPoint = { readonly timeS: number; readonly percent: number };

/**
 * Tint against time as points for a picture: `outS` seconds at a place and temperature, then `inS` seconds indoors.
 * First order in optical density (`tintKinetics`); at a place the middle of the depth that it allows
 * (`depthShareAt`); the cold slows the fading (Moon 2020, geometric mean of 2.7 and 5.4 times over 15 degrees), heat
 * takes depth away (Alabi 2021, contact lenses: 0.68 of the density from 23 to 35 °C). A picture with its inputs, never
 * evidence of a fault. Per cent, seconds, Celsius.
 */
export const tintCurve = (
  data: TintData,
  light: {
    readonly place: TintPlace;
    readonly temperatureC: number;
    readonly outS: number;
    readonly inS: number;
    readonly points?: number;
  },
): TintCurve => {
  const points = light.points ?? 61;
  const { low, high } = depthShareAt(light.place, data.grade);
  const depth = ((low + high) / 2) * depthFactor(light.temperatureC, data.temperatureC);
  const equilibrium = partlyActivatedPercent(data.clearPercent, data.darkPercent, depth);
  const halfLifeS = data.fadingHalfLifeS * fadingStretch(light.temperatureC, data.temperatureC);
  const darkAt = (timeS: number) =>
    darkeningPercent(data.clearPercent, equilibrium, data.darkeningTimeConstantS, timeS);
  const deepestPercent = darkAt(light.outS);
  const dusk = timeToFadeS(data.clearPercent, deepestPercent, halfLifeS, NIGHT_DRIVING_PERCENT);
  return {
    darkening: sampled(light.outS, points, darkAt),
    clearing: sampled(light.inS, points, (timeS) =>
      fadingPercent(data.clearPercent, deepestPercent, halfLifeS, timeS),
    ),
    deepestPercent,
    duskDrivingAfterS: Number.isFinite(dusk) ? dusk : null,
    words: [
      `about, from the design's data at ${data.temperatureC} °C (${data.source}); real lenses fade in stages and age`,
      'a picture of what to expect, never evidence of a fault',
    ],
  };
};

/** Half-life against the data's own temperature: longer in the cold, shorter in the warm. */
const fadingStretch = (temperatureC: number, dataC: number): number => {
  const meanSlowing = Math.sqrt(COLD_SLOWING.low * COLD_SLOWING.high);
  return meanSlowing ** ((dataC - temperatureC) / (COLD_SLOWING.warmC - COLD_SLOWING.coldC));
};

/** Share of the data's density left at another temperature; no gain is drawn for the cold, where it is small. */
const depthFactor = (temperatureC: number, dataC: number): number => {
  const heat = density(90, 26.1) / density(90, 14.7);
  return Math.min(1, heat ** ((temperatureC - dataC) / (35 - 23)));
};

const sampled = (
  untilS: number,
  points: number,
  percentAt: (timeS: number) => number,
): readonly TintPoint[] =>
  Array.from({ length: points }, (_, step) => {
    const timeS = (untilS * step) / (points - 1);
    return { timeS, percent: percentAt(timeS) };
  });

/** Share of UV-A that passes, per cent, from what is blocked. Source: complement. */
export const uvPassedPercent = (blockedPercent: number): number => 100 - blockedPercent;

/**
 * UV-A behind car glass, per cent blocked, mean and range. Source: Boxer Wachler, JAMA Ophthalmol
 * 2016;134(7):772-775, 29 cars. Other studies differ (84 to 86 % for tinted laminated in a trade article of 2008, all
 * of it for laminated glass in Duarte 2009): say "hardly darkens behind a windscreen" and print no figure as law.
 */
const CAR_GLASS_UV_BLOCKED = {
  windscreen: { mean: 96, low: 95, high: 98 },
  side: { mean: 71, low: 44, high: 96 },
} as const;

export type TintGrade = 'ordinary' | 'in-car';
export type TintPlace =
  | 'open sun'
  | 'shade'
  | 'behind windscreen'
  | 'beside side glass'
  | 'by a window'
  | 'indoors';
export type DepthShare = { readonly low: number; readonly high: number; readonly source: string };

/**
 * Share (0 to 1) of its full outdoor depth (optical density) that a light-reactive lens reaches. In-car grades reach a
 * third to a half behind a windscreen, ordinary ones next to nothing (common practice, no source; the UV-A figures of
 * `CAR_GLASS_UV_BLOCKED` agree). Shade, side glass and windows are estimates from the share of UV-A that arrives.
 */
export const depthShareAt = (place: TintPlace, grade: TintGrade): DepthShare => {
  const inCar = grade === 'in-car';
  switch (place) {
    case 'open sun':
      return { low: 1, high: 1, source: 'by definition' };
    case 'behind windscreen':
      return inCar ? share(1 / 3, 1 / 2) : share(0, 0.05);
    case 'beside side glass':
      return inCar
        ? share(1 / 3, 0.6)
        : {
            low: uvPassedPercent(CAR_GLASS_UV_BLOCKED.side.high) / 100,
            high: uvPassedPercent(CAR_GLASS_UV_BLOCKED.side.low) / 100,
            source: 'Boxer Wachler, JAMA Ophthalmol 2016;134(7):772-775',
          };
    case 'shade':
      return share(0.5, 0.9);
    case 'by a window':
      return share(0.1, 0.5);
    case 'indoors':
      return share(0, 0.05);
  }
};

/**
 * How much longer a lens takes to fade in the cold: half-life 2.7 to 5.4 times at 6 °C against 21 °C. Seconds.
 * Source: Moon 2020 (abstract), 12 lenses.
 */
export const coldHalfLifeS = (
  warmHalfLifeS: number,
  slowingLow: number = COLD_SLOWING.low,
  slowingHigh: number = COLD_SLOWING.high,
) => ({ lowS: warmHalfLifeS * slowingLow, highS: warmHalfLifeS * slowingHigh });

export const COLD_SLOWING = { low: 2.7, high: 5.4, coldC: 6, warmC: 21 } as const;

/** Deeper at or below 29 °C than at or above 35 °C. Common practice, no source; Alabi 2021 and Moon 2020 agree. */
const FULL_DEPTH_TO_C = 29;
const PALE_FROM_C = 35;

/**
 * What the temperature does to depth: full up to 29 °C, paler from 35 °C, in between either. Degrees Celsius.
 * Source: common practice, no source; direction in Alabi and others 2021 and Moon 2020 (abstracts).
 */
export const depthAtTemperature = (temperatureC: number): 'full' | 'between' | 'paler' => {
  if (temperatureC <= FULL_DEPTH_TO_C) return 'full';
  return temperatureC >= PALE_FROM_C ? 'paler' : 'between';
};

const share = (low: number, high: number): DepthShare => ({
  low,
  high,
  source: 'common practice, no source',
});

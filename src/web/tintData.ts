import type { TintData } from '../optics/tintCurve.ts';
import type { LightReactive } from '../store/lensBook.ts';

/** A first-order darkening has done 95 % of its way after three time constants. */
const TIME_CONSTANTS_TO_DARK = 3;

/** The lens book's data of a light-reactive design as the optics read them; undefined where one of them is not known. */
export function tintData(lens: LightReactive | null, source: string): TintData | undefined {
  const { clearPercent, darkPercent, darkAfterS, clearHalfLifeS, atTemperatureC, grade } = lens ?? {};
  if (!clearPercent || !darkPercent || !darkAfterS || !clearHalfLifeS || atTemperatureC === undefined)
    return undefined;
  return {
    clearPercent,
    darkPercent,
    darkeningTimeConstantS: darkAfterS / TIME_CONSTANTS_TO_DARK,
    fadingHalfLifeS: clearHalfLifeS,
    temperatureC: atTemperatureC,
    grade: grade === 'in-car' ? 'in-car' : 'ordinary',
    source,
  };
}

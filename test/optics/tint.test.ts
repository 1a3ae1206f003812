import { describe, expect, it } from 'vitest';
import { drivingFitness, roadColour, tintCategory } from '../../src/optics/tintCategory.ts';
import {
  coldHalfLifeS,
  depthAtTemperature,
  depthShareAt,
  uvPassedPercent,
} from '../../src/optics/tintConditions.ts';
import { tintCurve } from '../../src/optics/tintCurve.ts';
import {
  BLUE_LIGHT_COUNTER_TALK,
  CLEAR_WITHIN_S,
  clearStateCaution,
  DARK_WITHIN_S,
  judgeClearing,
  judgeDarkening,
  judgeDepth,
  judgePair,
} from '../../src/optics/tintJudgement.ts';
import {
  darkeningPercent,
  fadingPercent,
  partlyActivatedPercent,
  responseRatio,
  timeToFadeS,
} from '../../src/optics/tintKinetics.ts';

describe('category and driving', () => {
  it.each([
    [100, 0],
    [80.01, 0],
    [80, 1],
    [43.01, 1],
    [43, 2],
    [18, 3],
    [8, 4],
    [3.01, 4],
    [3, null],
    [101, null],
    [Number.NaN, null],
  ])('%s per cent is category %s', (percent, category) => {
    expect(tintCategory(percent)).toBe(category);
  });

  it.each([
    [75, true, true],
    [74.9, true, false],
    [8.1, true, false],
    [8, false, false],
    [2, false, false],
  ])('%s per cent: by day %s, at dusk or night %s', (percent, day, night) => {
    expect(drivingFitness(percent)).toMatchObject({ day, twilightOrNight: night });
  });

  it('a mirror that leaves 74 % when clear says: not for driving at dusk or night', () => {
    expect(clearStateCaution(74)).toBe('not for driving at dusk or night');
    expect(clearStateCaution(75)).toBeNull();
    expect(clearStateCaution(7)).toBe('not for driving');
  });

  it('a fifth of the luminous transmittance must get through from 475 to 650 nm', () => {
    expect(roadColour(15, 3)).toEqual({ requiredPercent: 3, within: true });
    expect(roadColour(15, 2.99).within).toBe(false);
  });
});

describe('how far the tint goes', () => {
  it('behind a windscreen an ordinary grade does next to nothing, an in-car grade a third to a half', () => {
    expect(depthShareAt('behind windscreen', 'ordinary').high).toBeLessThanOrEqual(0.05);
    expect(depthShareAt('behind windscreen', 'in-car')).toMatchObject({ low: 1 / 3, high: 0.5 });
    expect(depthShareAt('beside side glass', 'ordinary').high).toBeCloseTo(0.56, 9);
    expect(depthShareAt('beside side glass', 'ordinary').low).toBeCloseTo(0.04, 9);
    expect(depthShareAt('open sun', 'ordinary')).toMatchObject({ low: 1, high: 1 });
  });

  it('full to 29 °C, paler from 35, between either', () => {
    expect(depthAtTemperature(29)).toBe('full');
    expect(depthAtTemperature(32)).toBe('between');
    expect(depthAtTemperature(35)).toBe('paler');
  });

  it('a windscreen that blocks 96 % passes 4', () => {
    expect(uvPassedPercent(96)).toBe(4);
  });

  it('a warm half-life of a minute is 2.7 to 5.4 minutes in the cold', () => {
    expect(coldHalfLifeS(60)).toEqual({ lowS: 162, highS: 324 });
  });
});

describe('tint against time', () => {
  it('darkening starts clear and ends at its depth', () => {
    expect(darkeningPercent(90, 15, 20, 0)).toBe(90);
    expect(darkeningPercent(90, 15, 20, 1e6)).toBeCloseTo(15, 6);
    expect(darkeningPercent(90, 15, 20, 30)).toBeCloseTo(22.37, 2);
  });

  it('one half-life takes half of the density, not half of the light', () => {
    expect(fadingPercent(90, 15, 90, 0)).toBeCloseTo(15, 9);
    expect(fadingPercent(90, 15, 90, 90)).toBeCloseTo(Math.sqrt(90 * 15), 6);
  });

  it('the time to the limit for night driving is when the fading gets there', () => {
    const seconds = timeToFadeS(90, 15, 90, 75);
    expect(fadingPercent(90, 15, 90, seconds)).toBeCloseTo(75, 6);
    expect(timeToFadeS(90, 80, 90, 75)).toBe(0);
    expect(timeToFadeS(70, 15, 90, 75)).toBe(Infinity);
  });

  it('a share of the light multiplies the density', () => {
    expect(partlyActivatedPercent(88, 20, 0.5)).toBeCloseTo(41.95, 2);
    expect(partlyActivatedPercent(88, 20, 0)).toBe(88);
    expect(partlyActivatedPercent(88, 20, 1)).toBeCloseTo(20, 9);
  });

  it('a lens is light-reactive from a ratio of 1.25', () => {
    expect(responseRatio(90, 72)).toMatchObject({ isPhotochromic: true });
    expect(responseRatio(90, 73).isPhotochromic).toBe(false);
  });
});

describe('normal, or a fault', () => {
  const sun = { place: 'open sun', grade: 'ordinary', temperatureC: 20, sunnyDaysWorn: 5 } as const;

  it('clear in the car is normal, in any grade that darkens outside', () => {
    expect(judgeDepth({ place: 'behind windscreen', grade: 'ordinary' }).verdict).toBe('normal');
    expect(judgeDepth({ place: 'behind windscreen', grade: 'in-car' }).why).toContain('50 %');
  });

  it('pale in open sun, cool, after three sunny days is a fault', () => {
    expect(judgeDepth(sun).verdict).toBe('fault');
    expect(judgeDepth({ ...sun, sunnyDaysWorn: 3 }).verdict).toBe('fault');
    expect(judgeDepth({ ...sun, temperatureC: 29 }).verdict).toBe('fault');
  });

  it('before three sunny days it is not called a fault', () => {
    expect(judgeDepth({ ...sun, sunnyDaysWorn: 2 }).verdict).toBe('normal');
    expect(judgeDepth({ place: 'open sun', grade: 'ordinary', sunnyDaysWorn: 0 }).verdict).toBe('normal');
    expect(judgeDepth({ place: 'open sun', grade: 'ordinary', sunnyDaysWorn: 5 }).verdict).toBe(
      'cannot judge',
    );
  });

  it('at 35 °C pale is normal, at 32 it cannot be judged, nor without the temperature', () => {
    expect(judgeDepth({ ...sun, temperatureC: 35 }).verdict).toBe('normal');
    expect(judgeDepth({ ...sun, temperatureC: 32 }).verdict).toBe('cannot judge');
    expect(judgeDepth({ place: 'open sun', grade: 'ordinary' }).verdict).toBe('cannot judge');
    expect(judgeDepth({ place: 'open sun', grade: 'ordinary', temperatureC: 20 }).verdict).toBe(
      'cannot judge',
    );
  });

  it('clear in the car and known to stay clear in open sun as well is not excused by the car', () => {
    const seen = { ...sun, place: 'behind windscreen', darkensInOpenSun: false } as const;
    expect(judgeDepth(seen).verdict).toBe('fault');
    expect(judgeDepth({ ...seen, darkensInOpenSun: true }).verdict).toBe('normal');
  });

  it('clearly dark after 10 minutes at room temperature is a fault, after 9 it is not', () => {
    expect(judgeClearing({ stillDarkAfterMin: 10, temperatureC: 21 }).verdict).toBe('fault');
    expect(judgeClearing({ stillDarkAfterMin: 9.9, temperatureC: 21 }).verdict).toBe('normal');
    expect(judgeClearing({ stillDarkAfterMin: 10, temperatureC: 30 }).verdict).toBe('fault');
    expect(judgeClearing({ stillDarkAfterMin: 10 }).verdict).toBe('cannot judge');
  });

  it('in the cold the time is stretched up to 5.4 times, by a window it never counts', () => {
    expect(judgeClearing({ stillDarkAfterMin: 53, temperatureC: 6 }).verdict).toBe('normal');
    expect(judgeClearing({ stillDarkAfterMin: 54, temperatureC: 6 }).verdict).toBe('fault');
    // Half way between the two temperatures of the study the stretch is the root of 5.4: 23 minutes.
    expect(judgeClearing({ stillDarkAfterMin: 23, temperatureC: 13.5 }).verdict).toBe('normal');
    expect(judgeClearing({ stillDarkAfterMin: 23.5, temperatureC: 13.5 }).verdict).toBe('fault');
    expect(judgeClearing({ stillDarkAfterMin: 54, temperatureC: -10 }).verdict).toBe('fault');
    expect(judgeClearing({ stillDarkAfterMin: 60, temperatureC: 21, byWindow: true }).verdict).toBe('normal');
  });

  it('darkening: 45 s is counter talk, minutes are normal, longer is not', () => {
    expect(judgeDarkening(45).why).toContain('30 to 45');
    expect(judgeDarkening(180).verdict).toBe('normal');
    expect(judgeDarkening(181).verdict).toBe('fault');
  });

  it('one lens unlike its fellow is a fault', () => {
    expect(judgePair(20, 25).verdict).toBe('normal');
    expect(judgePair(19.9, 25).verdict).toBe('fault');
    expect(judgePair(25, 19.9).verdict).toBe('fault');
    expect(judgePair(0, 0).verdict).toBe('normal');
  });

  it('the figures of the counter stand as they are told', () => {
    expect(DARK_WITHIN_S).toEqual({ low: 30, high: 45 });
    expect(CLEAR_WITHIN_S).toEqual({ low: 45, high: 75 });
    expect(BLUE_LIGHT_COUNTER_TALK).toEqual({ lightReactive: [50, 70], clearFilter: [30, 50] });
  });
});

describe('the tint picture', () => {
  const data = {
    clearPercent: 90,
    darkPercent: 15,
    darkeningTimeConstantS: 20,
    fadingHalfLifeS: 90,
    temperatureC: 21,
    grade: 'ordinary',
    source: 'invented design',
  } as const;
  const sun = { place: 'open sun', temperatureC: 21, outS: 600, inS: 900 } as const;

  it('runs from clear to dark and back, without a jump where one comes in', () => {
    const { darkening, clearing, deepestPercent } = tintCurve(data, sun);
    expect(darkening[0]).toEqual({ timeS: 0, percent: 90 });
    expect(darkening.at(-1)?.percent).toBeCloseTo(15, 3);
    expect(clearing[0]?.percent).toBeCloseTo(deepestPercent, 9);
    expect(darkening.at(-1)?.timeS).toBe(600);
    expect(clearing.at(-1)?.timeS).toBe(900);
    expect(clearing.map(({ percent }) => percent)).toEqual(
      [...clearing.map(({ percent }) => percent)].sort((a, b) => a - b),
    );
  });

  it('in the cold it clears slower, in heat it stays paler and clears quicker', () => {
    const room = tintCurve(data, sun);
    const cold = tintCurve(data, { ...sun, temperatureC: 6 });
    const hot = tintCurve(data, { ...sun, temperatureC: 35 });
    expect(hot.deepestPercent).toBeGreaterThan(room.deepestPercent + 5);
    const ratio = (cold.duskDrivingAfterS as number) / (room.duskDrivingAfterS as number);
    expect(ratio).toBeGreaterThan(2.7);
    expect(ratio).toBeLessThan(5.4);
    expect(hot.duskDrivingAfterS as number).toBeLessThan(room.duskDrivingAfterS as number);
  });

  it('behind a windscreen it hardly moves, and an in-car grade does', () => {
    const car = { ...sun, place: 'behind windscreen' } as const;
    expect(tintCurve(data, car).deepestPercent).toBeGreaterThan(80);
    expect(tintCurve({ ...data, grade: 'in-car' }, car).deepestPercent).toBeLessThan(50);
  });

  it('a lens that never gets clear enough is never for dusk', () => {
    expect(tintCurve({ ...data, clearPercent: 70 }, sun).duskDrivingAfterS).toBeNull();
  });

  it('says that it is a picture and from which data', () => {
    const { words } = tintCurve(data, sun);
    expect(words.join(' ')).toContain('invented design');
    expect(words.join(' ')).toContain('never evidence of a fault');
  });
});

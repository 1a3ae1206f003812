import { describe, expect, it } from 'vitest';
import { dondersD, hofstetter } from '../../src/optics/accommodation.ts';
import { addForDistanceD, judgeAdd, shareUsedAt, usualAddForAge } from '../../src/optics/addNeeded.ts';
import {
  clearRangeCm,
  comfortableReadingCm,
  screenThroughAdd,
  testRoomVergenceD,
} from '../../src/optics/clearRange.ts';
import { colourFringePd, fringeFreeRadiusMm, LENS_MATERIALS } from '../../src/optics/colourFringe.ts';
import {
  astigmatismOffAxisD,
  corridorWidthMm,
  longestCorridorMm,
  nearZoneLeft,
  powerDownCorridorD,
} from '../../src/optics/corridor.ts';
import {
  crossOffPupil,
  crossTooHighOrLow,
  depthForGazeMm,
  gazeDepressionDeg,
  gazeToNearZone,
} from '../../src/optics/crossHeight.ts';
import { insetByRuleMm, insetMm, nearPdMm } from '../../src/optics/inset.ts';

describe('corridor', () => {
  it('a longer corridor is wider, a stronger add narrower', () => {
    expect(corridorWidthMm(2, 14)).toBe(3.5);
    expect(corridorWidthMm(2, 18)).toBe(4.5);
    expect(corridorWidthMm(3, 14)).toBeCloseTo(2.333, 3);
    expect(corridorWidthMm(2.5, 14, 0.25)).toBeCloseTo(1.4, 9);
  });

  it('2 mm off line at add 2.00 over 16 mm is half a dioptre, either side', () => {
    expect(astigmatismOffAxisD(2, 16, 2)).toBe(0.5);
    expect(astigmatismOffAxisD(2, 16, -2)).toBe(0.5);
    expect(astigmatismOffAxisD(2, 16, 0)).toBe(0);
  });

  it('power rises from the start to the end of the corridor and nowhere else', () => {
    expect(powerDownCorridorD(1, 2, 14, -3)).toBe(1);
    expect(powerDownCorridorD(1, 2, 14, 0)).toBe(1);
    expect(powerDownCorridorD(1, 2, 14, 7)).toBe(2);
    expect(powerDownCorridorD(1, 2, 14, 14)).toBe(3);
    expect(powerDownCorridorD(1, 2, 14, 20)).toBe(3);
  });

  it('fitting height 18 leaves room for a corridor of 14', () => {
    expect(longestCorridorMm(18)).toBe(14);
    expect(longestCorridorMm(18, 5)).toBe(13);
  });

  it('16 mm for a design that wants 18 is 2 short; without the design nothing is claimed', () => {
    expect(nearZoneLeft(16, 14, 18)).toEqual({ nearZoneMm: 2, shortfallMm: 2 });
    expect(nearZoneLeft(20, 14, 18).shortfallMm).toBe(-2);
    expect(nearZoneLeft(20, 14, null).shortfallMm).toBeNull();
  });
});

describe('fitting cross against the pupil', () => {
  it('2 mm high puts 2/14 of the add into far gaze and the chin down', () => {
    const found = crossTooHighOrLow(20, 18, 14, 2);
    expect(found.crossAbovePupilMm).toBe(2);
    expect(found.addInDistanceGazeD).toBeCloseTo(0.2857, 4);
    expect(found.posture).toBe('chin down to see far');
    expect(found.chinUpDeg).toBeCloseTo(-4.236, 3);
  });

  it('2 mm low leaves far clear and lifts the chin by 4 degrees', () => {
    const found = crossOffPupil(-2, 14, 2);
    expect(found.addInDistanceGazeD).toBe(0);
    expect(found.chinUpDeg).toBeCloseTo(4.236, 3);
    expect(found.posture).toBe('chin up to read, head back at a screen');
  });

  it('within a millimetre no posture is expected, and never more than the whole add stands in far gaze', () => {
    expect(crossOffPupil(0.5, 14, 2).posture).toBe('no change of posture expected');
    expect(crossOffPupil(1, 14, 2).posture).toBe('chin down to see far');
    expect(crossOffPupil(-1, 14, 2).posture).toMatch(/^chin up/);
    expect(crossOffPupil(40, 14, 2).addInDistanceGazeD).toBe(2);
  });

  it('14 mm down is 27 degrees of gaze at 27 mm, and back', () => {
    expect(gazeDepressionDeg(14)).toBeCloseTo(27.41, 2);
    expect(depthForGazeMm(gazeDepressionDeg(14))).toBeCloseTo(14, 9);
    expect(gazeDepressionDeg(14, 25)).toBeGreaterThan(gazeDepressionDeg(14, 27));
  });
});

describe('gaze to the near zone', () => {
  it('14 mm down at vertex 13 is in comfort, 17 mm is not, and closer glasses ask for more', () => {
    expect(gazeToNearZone(14, 13).depressionDeg).toBeCloseTo(27.41, 2);
    expect(gazeToNearZone(14, 13).overComfortDeg).toBeLessThan(0);
    expect(gazeToNearZone(17, 13).overComfortDeg).toBeCloseTo(2.2, 1);
    expect(gazeToNearZone(14, 10).depressionDeg).toBeGreaterThan(gazeToNearZone(14, 13).depressionDeg);
  });
});

describe('near PD and inset', () => {
  it('63 mm becomes 59 at 40 cm (newsgroup figure)', () => {
    expect(nearPdMm(63, 400, 0, 27)).toBeCloseTo(59, 1);
    expect(nearPdMm(63, 400, 0)).toBe(63 - insetMm(63, 400, 0));
  });

  it('plus wants more inset, minus less, a nearer page more', () => {
    expect(insetMm(31.5, 400, 4)).toBeGreaterThan(insetMm(31.5, 400, 0));
    expect(insetMm(31.5, 400, -6)).toBeLessThan(insetMm(31.5, 400, 0));
    expect(insetMm(31.5, 330, 0)).toBeGreaterThan(insetMm(31.5, 400, 0));
    expect(insetByRuleMm(33)).toBeCloseTo(2.273, 3);
  });
});

describe('add, age and range', () => {
  it('amplitude never falls under nothing', () => {
    expect(hofstetter(80)).toEqual({ minimumD: 0, meanD: 0, maximumD: 0 });
    expect(hofstetter(60).minimumD).toBe(0);
    expect(hofstetter(60).maximumD).toBe(1);
  });

  it("Donders' table is read straight between its rows and held at its ends", () => {
    const rows = [10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75].map(dondersD);
    expect(rows).toEqual([14, 12, 10, 8.5, 7, 5.5, 4.5, 3.5, 2.5, 1.75, 1, 0.5, 0.25, 0]);
    expect(dondersD(47.5)).toBe(3);
    expect(dondersD(45)).toBe(3.5);
    expect(dondersD(5)).toBe(14);
    expect(dondersD(90)).toBe(0);
    expect(dondersD(10)).toBe(14);
    expect(dondersD(75)).toBe(0);
  });

  it('usual adds: none under 45, the older band from its first birthday', () => {
    expect(usualAddForAge(44.9)).toBeNull();
    expect(usualAddForAge(49.9)).toEqual({ lowD: 1, highD: 1.25 });
    expect(usualAddForAge(50)).toEqual({ lowD: 1.5, highD: 1.75 });
    expect(usualAddForAge(55)).toEqual({ lowD: 2, highD: 2.25 });
    expect(usualAddForAge(60)).toEqual({ lowD: 2.5, highD: 3 });
  });

  it('two thirds of the amplitude under 52, half from then on', () => {
    expect(shareUsedAt(51)).toBeCloseTo(0.667, 3);
    expect(shareUsedAt(52)).toBe(0.5);
  });

  it('at 55 and 40 cm: 1.62 wanted, 2.25 too strong, 1.00 too weak, 1.75 about right', () => {
    expect(judgeAdd(1.75, 55)).toMatchObject({ verdict: 'about right', wantedD: 1.625 });
    expect(judgeAdd(2.25, 55).verdict).toBe('too strong');
    expect(judgeAdd(1, 55)).toMatchObject({ verdict: 'too weak', differenceD: -0.625 });
    expect(judgeAdd(2.125, 55).verdict).toBe('about right');
    expect(judgeAdd(1.125, 55).verdict).toBe('about right');
  });

  it('a young reader wants no add and never a negative one', () => {
    expect(judgeAdd(0, 30).wantedD).toBe(0);
    expect(addForDistanceD(40, 7, 2 / 3)).toBeLessThan(0);
  });

  it('add 2.25 with 3.50 of amplitude is clear from 17 to 44 cm (printed answer)', () => {
    const { nearCm, farCm } = clearRangeCm(2.25, 3.5);
    expect(nearCm).toBeCloseTo(17.39, 2);
    expect(farCm).toBeCloseTo(44.44, 2);
    expect(clearRangeCm(0, 2).farCm).toBe(Infinity);
    expect(clearRangeCm(0, 0).nearCm).toBe(Infinity);
  });

  it('an over-strong add pulls reading close', () => {
    expect(comfortableReadingCm(2.5, 1, 0.5)).toBeCloseTo(33.33, 2);
    expect(comfortableReadingCm(3, 1, 0.5)).toBeLessThan(comfortableReadingCm(2.5, 1, 0.5));
  });

  it('a screen at 60 cm lies beyond add 2.00, at 45 cm inside it, at 20 cm too near', () => {
    expect(screenThroughAdd(2, 1, 60)).toMatchObject({ farCm: 50, clearThroughFullAdd: false });
    expect(screenThroughAdd(2, 1, 45).clearThroughFullAdd).toBe(true);
    expect(screenThroughAdd(2, 1, 20).clearThroughFullAdd).toBe(false);
    expect(screenThroughAdd(2, 1, 60).addWantedD).toBeCloseTo(1.167, 3);
  });

  it('a 6 m lane leaves half of what a 3 m lane leaves', () => {
    expect(testRoomVergenceD(3)).toBeCloseTo(-0.333, 3);
    expect(testRoomVergenceD(6)).toBeCloseTo(-0.167, 3);
  });
});

describe('colour fringes', () => {
  it('5 pd through V 30 is 0.17, through V 58 half of it, whichever the base', () => {
    expect(colourFringePd(5, 30)).toBeCloseTo(0.167, 3);
    expect(colourFringePd(-5, 30)).toBeCloseTo(0.167, 3);
    expect(colourFringePd(5, 58)).toBeCloseTo(0.086, 3);
  });

  it('-6.00 in polycarbonate fringes from 5 mm on; without power never', () => {
    expect(fringeFreeRadiusMm(-6, 30)).toBeCloseTo(5, 9);
    expect(fringeFreeRadiusMm(0, 30)).toBe(Infinity);
  });

  it('materials have the index and V number of the trade tables', () => {
    expect(LENS_MATERIALS.map(({ index, abbe }) => [index, abbe])).toEqual([
      [1.498, 58],
      [1.523, 59],
      [1.53, 44],
      [1.56, 37],
      [1.586, 30],
      [1.6, 41],
      [1.67, 32],
      [1.74, 33],
    ]);
  });

  it('the lowest V of the list is polycarbonate', () => {
    const lowest = [...LENS_MATERIALS].sort((a, b) => a.abbe - b.abbe)[0];
    expect(lowest?.name).toBe('polycarbonate');
  });
});

import { describe, expect, it } from 'vitest';
import { explainAsWorn } from '../../src/optics/asWorn.ts';
import {
  aboveMidlineMm,
  decentrationInMm,
  decentrationInOneEyeMm,
  framePdMm,
} from '../../src/optics/boxGeometry.ts';
import { lowerCentreByRuleMm, lowerCentreMm, tiltForCentreDropDeg } from '../../src/optics/centreForTilt.ts';
import {
  baseCurveChangePercent,
  imageDifferencePercent,
  imageDifferenceWeight,
  powerFactor,
  shapeFactor,
  spectacleMagnification,
  vertexChangePercent,
} from '../../src/optics/imageSize.ts';
import {
  effectiveTiltDeg,
  lensAsWorn,
  lensToMake,
  martinLens,
  martinSphere,
} from '../../src/optics/lensTilt.ts';
import {
  compensateForVertexD,
  compensateLensForVertex,
  effectivePowerD,
} from '../../src/optics/vertexCompensation.ts';
import { rx } from './lenses.ts';

describe('vertex distance', () => {
  it('a minus lens worn closer needs less, a plus lens more', () => {
    expect(compensateForVertexD(-10, 12)).toBeCloseTo(-8.93, 2);
    expect(compensateForVertexD(10, 12)).toBeCloseTo(11.36, 2);
    expect(compensateForVertexD(-10, 0)).toBe(-10);
  });

  it('below 4 D and 3 mm it explains nothing', () => {
    expect(Math.abs(compensateForVertexD(-4, 3) + 4)).toBeLessThan(0.05);
  });

  it('each principal meridian changes by its own power, so the cylinder shrinks with a strong minus lens', () => {
    const made = compensateLensForVertex(rx(-7, -2.25, 170), 14, 10);
    expect(made.sphereD).toBeCloseTo(-6.8093, 4);
    expect(made.cylinderD).toBeCloseTo(-2.1106, 4);
    expect(made.axisDeg).toBe(170);
  });

  it('worn farther away without compensation, minus acts weaker and plus stronger', () => {
    expect(effectivePowerD(-9, 12, 15)).toBeCloseTo(-8.7634, 4);
    expect(effectivePowerD(9, 12, 15)).toBeCloseTo(9.2497, 4);
  });
});

describe('tilt and wrap', () => {
  // Traced numerically: parallel rays close to the axis through two thin toric surfaces, front +6.00, no thickness.
  it.each([
    [rx(-6), 12, 0, 1.6, 'R', [-6.0829, -0.2748, 180]],
    [rx(-6), 0, 15, 1.6, 'R', [-6.13, -0.4401, 90]],
    [rx(-6), 10, 10, 1.6, 'R', [-6.1148, -0.3861, 134.5615]],
    [rx(-6), 10, 10, 1.6, 'L', [-6.1148, -0.3861, 45.4385]],
    [rx(-3.5, -2, 35), 15, 0, 1.6, 'R', [-3.6501, -2.25, 31.0328]],
    [rx(4, -2.5, 70), 8, 12, 1.5, 'R', [4.2637, -2.6993, 67.2875]],
    [rx(4, -2.5, 70), 8, 12, 1.5, 'L', [4.1016, -2.4754, 71.8442]],
    [rx(-5, -1.5, 20), 12, 8, 1.67, 'L', [-5.1091, -1.9318, 23.3963]],
  ] as const)(
    '%o at tilt %s and wrap %s, n %s, %s eye agrees with traced rays',
    (lens, tiltDeg, wrapDeg, index, eye, traced) => {
      const worn = lensAsWorn(lens, { eye, tiltDeg, wrapDeg, index });
      expect(Math.abs(worn.sphereD - traced[0])).toBeLessThan(2e-4);
      expect(Math.abs(worn.cylinderD - traced[1])).toBeLessThan(2e-4);
      expect(Math.abs(worn.axisDeg - traced[2])).toBeLessThan(1e-3);
    },
  );

  it.each([
    [12, 0.0003],
    [20, 0.00225],
  ])('at %s degrees Martin is within his known error of the exact form', (tiltDeg, share) => {
    const pose = { eye: 'R', tiltDeg, wrapDeg: 0, index: 1.6 } as const;
    const exact = lensAsWorn(rx(-6), pose);
    const error = Math.abs(martinLens(rx(-6), pose).sphereD - exact.sphereD) / Math.abs(exact.sphereD);
    expect(error).toBeLessThan(share);
    expect(error).toBeGreaterThan(0);
  });

  it('at 6 D and 12 degrees the cylinder is 0.27 D, at 2 D under 0.10', () => {
    expect(martinSphere(-6, 12, 1.6, 'tilt')).toMatchObject({ axisDeg: 180 });
    expect(martinSphere(-6, 12, 1.6, 'tilt').cylinderD).toBeCloseTo(-0.27, 2);
    expect(Math.abs(martinSphere(-2, 12, 1.6, 'tilt').cylinderD)).toBeLessThan(0.1);
    expect(martinSphere(-4, 15, 1.586, 'wrap').axisDeg).toBe(90);
  });

  it('the whole of two angles is more than either, and one alone is itself', () => {
    expect(effectiveTiltDeg(8, 6)).toBeCloseTo(9.988, 3);
    expect(effectiveTiltDeg(10, 0)).toBeCloseTo(10, 6);
    expect(effectiveTiltDeg(0, 0)).toBe(0);
  });

  it('a minus lens is made weaker for its tilt', () => {
    const made = lensToMake(rx(-6), { eye: 'R', tiltDeg: 12, wrapDeg: 0, index: 1.6 });
    expect(made.sphereD).toBeCloseTo(-5.6624, 4);
    expect(made.cylinderD).toBeCloseTo(-0.2558, 4);
    expect(made.axisDeg).toBeCloseTo(90, 6);
  });
});

describe('centre of a tilted distance lens', () => {
  it('goes down 1 mm for 2 degrees, a little less by geometry', () => {
    expect(lowerCentreByRuleMm(10)).toBe(5);
    expect(lowerCentreMm(10)).toBeCloseTo(4.689, 3);
  });

  it('and the tilt that suits a given drop is the same law turned round', () => {
    expect(tiltForCentreDropDeg(lowerCentreMm(11))).toBeCloseTo(11, 9);
    expect(tiltForCentreDropDeg(30)).toBe(90);
  });
});

describe('order against as-worn powers, line by line', () => {
  const input = {
    ordered: rx(-6, -1, 180),
    pose: { eye: 'R', tiltDeg: 10, wrapDeg: 5, index: 1.67 },
    refractedVertexMm: 12,
    wornVertexMm: 14,
  } as const;

  it('the lines lead from the order to what should have been made', () => {
    const { lines, toMake, verdict, leftOver } = explainAsWorn(input);
    expect(lines.map(({ what }) => what)).toEqual([
      'ordered',
      'for the vertex distance',
      'for tilt and wrap',
    ]);
    expect(lines[2]?.lens).toEqual(toMake);
    expect(lines[1]?.why).toContain('2 mm farther');
    expect(verdict).toBe('no as-worn powers');
    expect(leftOver).toBeNull();
  });

  it('powers made by these rules are explained, and the wearer gets the order from them', () => {
    const labAsWorn = explainAsWorn(input).toMake;
    const found = explainAsWorn({ ...input, labAsWorn });
    expect(found.verdict).toBe('explained');
    expect(found.leftOver?.blurD).toBeCloseTo(0, 9);
    expect(found.gotFromLab?.sphereD).toBeCloseTo(-6, 9);
    expect(found.gotFromLab?.cylinderD).toBeCloseTo(-1, 9);
    expect(found.lines).toHaveLength(4);
  });

  it('a lens made as ordered gives the wearer something else, told at the plane of the refraction', () => {
    const { gotIfUncompensated } = explainAsWorn(input);
    expect(gotIfUncompensated.sphereD).toBeCloseTo(-5.99, 1);
    expect(gotIfUncompensated.cylinderD).toBeLessThan(-1.1);
  });

  it('powers half a dioptre away are not explained', () => {
    const found = explainAsWorn({ ...input, labAsWorn: rx(-6.5, -1, 180) });
    expect(found.verdict).toBe('not explained');
    expect(found.lines[3]?.why).toContain('left over');
    const { sphereD, cylinderD, axisDeg } = found.toMake;
    const off = (byD: number) =>
      explainAsWorn({ ...input, labAsWorn: rx(sphereD + byD, cylinderD, axisDeg) }).verdict;
    expect([off(0.12), off(-0.12), off(0.13)]).toEqual(['explained', 'explained', 'not explained']);
  });

  it('worn at the refracted distance the first step changes nothing and says so', () => {
    const { lines } = explainAsWorn({ ...input, wornVertexMm: 12 });
    expect(lines[1]?.why).toContain('no change');
    expect(lines[1]?.lens).toEqual(rx(-6, -1, 180));
    expect(explainAsWorn({ ...input, wornVertexMm: 10 }).lines[1]?.why).toContain('2 mm closer');
  });
});

describe('image size', () => {
  const plus = { frontSurfaceD: 8, centreThicknessMm: 5, index: 1.498, backVertexPowerD: 4, vertexMm: 12 };

  it('plus magnifies, minus makes small, shape and power each with their share', () => {
    const { shapeFactor: shape, powerFactor: power, percent } = spectacleMagnification(plus);
    expect(shape).toBeCloseTo(1.0274, 4);
    expect(power).toBeCloseTo(1.0638, 4);
    expect(percent).toBeCloseTo(9.302, 2);
    expect(spectacleMagnification({ ...plus, backVertexPowerD: -6 }).percent).toBeLessThan(0);
    expect(shapeFactor(0, 5, 1.5)).toBe(1);
    expect(powerFactor(0, 15)).toBe(1);
  });

  it('equal lenses differ by nothing; the stronger plus sees larger', () => {
    expect(imageDifferencePercent(plus, plus)).toBe(0);
    expect(imageDifferencePercent({ ...plus, backVertexPowerD: 6 }, plus)).toBeGreaterThan(2);
  });

  it('two dioptres of base curve at 2.2 mm are 0.3 %, and a step back is smaller', () => {
    expect(baseCurveChangePercent(4.25, 6.25, 2.2, 1.6)).toBeCloseTo(0.277, 2);
    expect(baseCurveChangePercent(6.25, 4.25, 2.2, 1.6)).toBeLessThan(0);
  });

  it('moved away from the eye plus grows and minus shrinks', () => {
    expect(vertexChangePercent(8, 12, 16)).toBeCloseTo(3.774, 2);
    expect(vertexChangePercent(-8, 12, 16)).toBeLessThan(0);
  });

  it.each([
    [0.99, 'unlikely'],
    [-1, 'possible'],
    [2, 'likely'],
    [3.5, 'hinders fusion'],
  ] as const)('a difference of %s per cent is %s', (percent, weight) => {
    expect(imageDifferenceWeight(percent)).toBe(weight);
  });
});

describe('box sizes', () => {
  it('52 18 with PD 64: frame PD 70, 3 mm in each side; a height of 20 in B 38 is 1 above the midline', () => {
    expect(framePdMm({ aMm: 52, dblMm: 18 })).toBe(70);
    expect(decentrationInMm(70, 64)).toBe(3);
    expect(decentrationInOneEyeMm(70, 31.5)).toBe(3.5);
    expect(aboveMidlineMm(20, 38)).toBe(1);
  });
});

import { describe, expect, it } from 'vitest';
import { lensPicture, type PictureInput } from '../../src/optics/lensPicture.ts';

const input: PictureInput = {
  frame: { aMm: 52, bMm: 38, dblMm: 18 },
  R: { monocularPdMm: 31.5, fittingHeightMm: 20, pupilMonocularPdMm: 32, pupilHeightMm: 18 },
  L: { monocularPdMm: 32, fittingHeightMm: 20, insetMm: 2 },
  corridorMm: 14,
  addD: 2,
};

describe('the lens picture', () => {
  it("the wearer's right lens lies on the left, boxes in true sizes with the bridge between them", () => {
    const { R, L, widthMm, heightMm } = lensPicture(input);
    expect(R.box).toEqual({ leftMm: -61, rightMm: -9, bottomMm: 0, topMm: 38 });
    expect(L.box).toEqual({ leftMm: 9, rightMm: 61, bottomMm: 0, topMm: 38 });
    expect(R.boxedCentre).toEqual({ xMm: -35, yMm: 19 });
    expect([widthMm, heightMm]).toEqual([122, 38]);
  });

  it('cross, reference point 4 mm below it, and pupil stand where they were measured', () => {
    const { R } = lensPicture(input);
    expect(R.cross).toEqual({ xMm: -31.5, yMm: 20 });
    expect(R.prismReferencePoint).toEqual({ xMm: -31.5, yMm: 16 });
    expect(R.pupil).toEqual({ xMm: -32, yMm: 18 });
    expect(lensPicture({ ...input, referenceBelowCrossMm: 2 }).R.prismReferencePoint?.yMm).toBe(18);
  });

  it('a cross 2 mm high and half a millimetre nasal is told with its signs', () => {
    expect(lensPicture(input).R.crossOffPupil).toEqual({ aboveMm: 2, nasalMm: 0.5 });
  });

  it('the corridor runs down and towards the nose on both sides, and ends in the near zone', () => {
    const { R, L } = lensPicture(input);
    expect(R.corridor).toEqual({ from: { xMm: -31.5, yMm: 20 }, to: { xMm: -29, yMm: 6 }, widthMm: 3.5 });
    expect(L.corridor?.to).toEqual({ xMm: 30, yMm: 6 });
    expect(R.nearZone).toEqual({ top: { xMm: -29, yMm: 6 }, heightMm: 6 });
  });

  it('a near zone under the rim is cut off, never negative', () => {
    expect(lensPicture({ ...input, corridorMm: 22 }).R.nearZone?.heightMm).toBe(0);
  });

  it('what was not measured is not drawn', () => {
    const { L } = lensPicture(input);
    expect(L.pupil).toBeNull();
    expect(L.crossOffPupil).toEqual({ aboveMm: null, nasalMm: null });
    const bare = lensPicture({ frame: input.frame, R: {}, L: {} });
    expect(bare.R).toMatchObject({ cross: null, prismReferencePoint: null, corridor: null, nearZone: null });
    const { addD: _none, ...withoutAdd } = input;
    expect(lensPicture(withoutAdd).R.corridor?.widthMm).toBeNull();
  });

  it('the rim stays inside its box and touches the middle of each side', () => {
    const { rim, box } = lensPicture(input).L;
    const xs = rim.map(({ xMm }) => xMm);
    const ys = rim.map(({ yMm }) => yMm);
    expect(Math.min(...xs)).toBeCloseTo(box.leftMm, 9);
    expect(Math.max(...xs)).toBeCloseTo(box.rightMm, 9);
    expect(Math.min(...ys)).toBeCloseTo(box.bottomMm, 9);
    expect(Math.max(...ys)).toBeCloseTo(box.topMm, 9);
    // Rounder than a box, fuller than an ellipse: the corner point lies between the two.
    const corner = rim[9] as { xMm: number; yMm: number };
    expect((corner.xMm - 35) / 26).toBeGreaterThan(Math.SQRT1_2);
    expect((corner.xMm - 35) / 26).toBeLessThan(1);
  });
});

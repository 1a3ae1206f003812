import { describe, expect, it } from 'vitest';
import { checkInput, EYE_RANGES, FRAME_RANGES, type JobNumbers } from '../../src/optics/checkInput.ts';

const problems = (numbers: JobNumbers) => {
  const checked = checkInput(numbers);
  return checked.ok ? [] : checked.problems;
};

describe('the edge of the room', () => {
  it.each([
    [{ R: { sphereD: Number.NaN } }, 'R sphere', 'Allowed: -30 to 30 D.'],
    [{ L: { sphereD: 60 } }, 'L sphere', 'Allowed: -30 to 30 D.'],
    [{ R: { axisDeg: 200, cylinderD: -1 } }, 'R axis', 'Allowed: 0 to 180 degrees.'],
    [{ R: { monocularPdMm: -31 } }, 'R monocular PD', 'Allowed: 20 to 42 mm.'],
    [{ L: { addD: -1 } }, 'L add', 'Allowed: 0 to 4.5 D.'],
    [{ L: { index: Infinity } }, 'L refractive index', 'Allowed: 1.4 to 2.'],
    [{ frame: { dblMm: 70 } }, 'frame bridge (DBL)', 'Allowed: 8 to 32 mm.'],
  ] as const)('%o is refused by name with the allowed range', (numbers, where, mend) => {
    expect(problems(numbers)).toEqual([expect.objectContaining({ where, mend })]);
  });

  it('tells what stood there', () => {
    expect(problems({ R: { sphereD: 60 } })[0]?.what).toBe('sphere is 60 D, which it cannot be');
    expect(problems({ R: { sphereD: Number.NaN } })[0]?.what).toBe('sphere is NaN, which it cannot be');
  });

  it('a fitting height over B is refused with what this frame allows; at B it is not', () => {
    const frame = { bMm: 38 };
    expect(problems({ frame, R: { fittingHeightMm: 38.5 } })).toEqual([
      expect.objectContaining({ code: 'height-over-b', mend: 'Allowed with this frame: 8 to 38 mm.' }),
    ]);
    expect(problems({ frame, R: { fittingHeightMm: 38 } })).toEqual([]);
    expect(problems({ R: { fittingHeightMm: 38.5 } })).toEqual([]);
  });

  it('a near PD over the distance PD may be swapped, and says so', () => {
    const [problem] = problems({ L: { monocularPdMm: 30, nearPdMm: 32 } });
    expect(problem).toMatchObject({ code: 'near-pd-over-pd', where: 'L near monocular PD' });
    expect(problem?.mend).toContain('swapped');
    expect(problems({ L: { monocularPdMm: 32, nearPdMm: 32 } })).toEqual([]);
  });

  it('a cylinder wants an axis, no cylinder wants none', () => {
    expect(problems({ R: { sphereD: -1, cylinderD: -0.5 } })[0]).toMatchObject({ code: 'axis-missing' });
    expect(problems({ R: { sphereD: -1, cylinderD: 0 } })).toEqual([]);
  });

  it('tells all troubles at once, both eyes and frame', () => {
    expect(problems({ frame: { aMm: 5 }, R: { sphereD: 60, addD: 9 }, L: { vertexMm: 0 } })).toHaveLength(4);
  });

  it('axis 0 comes back as 180 and all else as it was', () => {
    const checked = checkInput({ R: { sphereD: -1, cylinderD: -0.5, axisDeg: 0 }, L: { addD: 2 } });
    expect(checked).toEqual({
      ok: true,
      value: { R: { sphereD: -1, cylinderD: -0.5, axisDeg: 180 }, L: { addD: 2 } },
    });
  });

  it('the ranges are those of a lens and a face', () => {
    const ends = Object.fromEntries(
      Object.entries({ ...EYE_RANGES, ...FRAME_RANGES }).map(([name, { from, to }]) => [name, [from, to]]),
    );
    expect(ends).toEqual({
      sphereD: [-30, 30],
      cylinderD: [-15, 15],
      axisDeg: [0, 180],
      addD: [0, 4.5],
      prismUpPd: [-20, 20],
      prismInPd: [-20, 20],
      monocularPdMm: [20, 42],
      nearPdMm: [18, 42],
      fittingHeightMm: [8, 45],
      vertexMm: [4, 25],
      tiltDeg: [-10, 30],
      wrapDeg: [-5, 35],
      baseCurveD: [0, 14],
      centreThicknessMm: [0.5, 20],
      index: [1.4, 2],
      abbe: [20, 95],
      marksTiltDeg: [-45, 45],
      aMm: [30, 75],
      bMm: [15, 70],
      dblMm: [8, 32],
    });
  });

  it.each(Object.entries({ ...EYE_RANGES, ...FRAME_RANGES }))(
    '%s takes both ends of its range and nothing beyond',
    (name, { from, to }) => {
      const isFrame = name in FRAME_RANGES;
      const at = (value: number): JobNumbers =>
        isFrame
          ? { frame: { [name]: value } }
          : { R: { [name]: value, ...(name === 'cylinderD' ? { axisDeg: 90 } : {}) } };
      expect(problems(at(from))).toEqual([]);
      expect(problems(at(to))).toEqual([]);
      expect(problems(at(from - 0.01))).toHaveLength(1);
      expect(problems(at(to + 0.01))).toHaveLength(1);
    },
  );
});

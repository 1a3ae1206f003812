import { describe, expect, test } from 'vitest';
import { runAfterfit } from '../setup/process.ts';

const lens = (sphere: number, over: object = {}) => ({
  sphere_D: sphere,
  cylinder_D: -0.5,
  axis_deg: 90,
  add_D: 2,
  ...over,
});
const JOB = {
  standard: 'ANSI Z80.1',
  order: { R: lens(1.25), L: lens(1.5) },
  layout: {
    R: { monocular_pd_mm: 31, fitting_height_mm: 18 },
    L: { monocular_pd_mm: 31, fitting_height_mm: 18 },
  },
  as_worn: { R: lens(1.12), L: lens(1.37) },
  read: {
    R: lens(1.12, { monocular_pd_mm: 31, fitting_height_mm: 18, marks_tilt_deg: 0 }),
    L: lens(1.37, { monocular_pd_mm: 31, fitting_height_mm: 18, marks_tilt_deg: 0 }),
  },
};

type Line = Readonly<Record<string, unknown>> & { quantity: string; eye: string };
async function check(...jobs: readonly unknown[]) {
  const input = jobs.map((job) => (typeof job === 'string' ? job : JSON.stringify(job))).join('\n');
  const ran = await runAfterfit(['check-job'], { input });
  return {
    code: ran.code,
    answers: ran.out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line)),
  };
}
const lineOf = (answer: { lines: Line[] }, quantity: string, eye: string): Line | undefined =>
  answer.lines.find((line) => line.quantity === quantity && line.eye === eye);

describe('afterfit check-job', () => {
  test('a fitting height 1.0 mm off passes and 1.1 mm off is out (ANSI Z80.1: 1.0 mm each), with margin and place', async () => {
    const off = (mm: number) => ({
      ...JOB,
      read: { ...JOB.read, R: { ...JOB.read.R, fitting_height_mm: 18 - mm } },
    });
    const { code, answers } = await check(off(1), off(1.1));
    const [on, over] = answers;
    expect(lineOf(on, 'fitting height', 'R')).toMatchObject({
      found: 17,
      expected: 18,
      allowed: 1,
      margin_left: 0,
      verdict: 'pass',
      compared_with: 'layout',
      read_at: expect.stringContaining('lowest point of the lens'),
    });
    expect(lineOf(over, 'fitting height', 'R')).toMatchObject({ margin_left: -0.1, verdict: 'out' });
    expect(over.verdict).toBe('out');
    expect(code).toBe(0);
  });

  test('powers stand against the as-worn powers; without them a compensated job cannot be judged and is not called out', async () => {
    const { as_worn: _none, ...without } = JOB;
    const { answers } = await check(JOB, without, { ...without, compensated: false });
    const sphere = (answer: { lines: Line[] }) =>
      answer.lines.find((line) => /sphere|power/.test(line.quantity));
    expect(sphere(answers[0])).toMatchObject({ compared_with: 'as-worn', expected: 1.12, verdict: 'pass' });
    expect(sphere(answers[1])).toMatchObject({
      verdict: 'cannot-judge',
      reason: expect.stringContaining('as-worn'),
    });
    expect(answers[1].lines.some((line: Line) => line.verdict === 'out')).toBe(false);
    expect(sphere(answers[2])).toMatchObject({ compared_with: 'order', expected: 1.25 });
  });

  test('the same job by the other standard is told by that standard', async () => {
    const { answers } = await check({ ...JOB, standard: 'ISO 21987' });
    expect(answers[0].standard).toBe('ISO 21987');
    expect(lineOf(answers[0], 'fitting height', 'R')!.source).toContain('ISO 21987');
  });

  test.each([
    ['sphere 60', { order: { R: lens(60), L: lens(1) } }, 'order R sphere', '-30 to 30'],
    ['axis 200', { order: { R: lens(1, { axis_deg: 200 }), L: lens(1) } }, 'order R axis', '0 to 180'],
    [
      'a cylinder without an axis',
      { as_worn: { R: lens(1, { axis_deg: undefined }) } },
      'as-worn R axis',
      '180',
    ],
    ['a negative PD', { read: { R: { monocular_pd_mm: -31 } } }, 'read R monocular PD', '20 to 42'],
    [
      'a height over B',
      { layout: { R: { fitting_height_mm: 30 }, frame: { b_mm: 28 } } },
      'order R fitting height',
      '8 to 28',
    ],
  ])('%s is refused by name with the allowed range', async (_what, over, where, range) => {
    const { code, answers } = await check({ ...JOB, ...over });
    expect(answers[0].error).toMatchObject({ code: 'not-allowed', where: `line 1, ${where}` });
    expect(answers[0].error.what).toContain(range);
    expect(code).toBe(2);
  });

  test('a key that is not known, no JSON, and a missing part are told in their place, and the rest goes on', async () => {
    const { code, answers } = await check({ ...JOB, hight: 3 }, '{', { ...JOB, read: undefined }, JOB);
    expect(answers[0].error.what).toContain('hight');
    expect(answers[1].error).toMatchObject({ code: 'not-json', where: 'line 2' });
    expect(answers[2].error.where).toBe('line 3, read');
    expect(answers[3].verdict).not.toBe('out');
    expect(code).toBe(2);
  });

  test('--schema prints a JSON Schema of both lines', async () => {
    const schema = JSON.parse((await runAfterfit(['check-job', '--schema'])).out);
    expect(schema.in.properties.order.required).toEqual(['R', 'L']);
    expect(schema.out.properties.lines.items.properties).toHaveProperty('margin_left');
  });
});

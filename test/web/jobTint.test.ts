import { describe, expect, test } from 'vitest';
import { STARTER_DESIGNS } from '../../src/followup/starterDesigns.ts';
import { isAboutTint, jobTint } from '../../src/web/pages/jobTint.ts';

const starter = (name: string) => {
  const { lightReactive, source } = STARTER_DESIGNS.find((one) => one.name === name)!;
  return { light_reactive: lightReactive, source };
};

describe('the tint picture of a job', () => {
  test('every starter design that is light-reactive has all its figures, and no other has a picture', () => {
    for (const { name, lightReactive } of STARTER_DESIGNS)
      expect(jobTint(starter(name)) !== undefined, name).toBe(lightReactive !== null);
  });

  test('ordinary: dark in the sun, next to nothing behind a windscreen, slower to clear in the cold than in the heat', () => {
    const picture = jobTint(starter('soft 15, light-reactive'))!;
    const [cold, hot, car] = picture.table.rows.map((row) =>
      row.slice(1, 3).map((cell) => Number.parseFloat(cell)),
    );
    expect(cold![0]).toBeLessThan(20);
    expect(car![0]).toBeGreaterThan(80);
    expect(hot![0]).toBeGreaterThan(cold![0]!);
    expect(cold![1]).toBeLessThan(hot![1]!);
  });

  test('an in-car grade darkens behind a windscreen by a third to a half of its depth', () => {
    const picture = jobTint(starter('soft 15, light-reactive in the car'))!;
    const behind = Number.parseFloat(picture.table.rows[2]![1]!);
    expect(behind).toBeGreaterThan(25);
    expect(behind).toBeLessThan(50);
  });

  test('a lens that lets 70 % through when clear is never for driving at dusk, and the picture says so; 76 % is', () => {
    const of = (clearPercent: number) =>
      jobTint({
        light_reactive: { ...(starter('soft 15, light-reactive').light_reactive as object), clearPercent },
        source: 's',
      })!;
    expect(of(70).says).toContain('70 % through: not for driving at dusk or night');
    expect(of(70).table.rows[0]!.at(-1)).toBe('never');
    expect(of(76).says).not.toContain('not for driving');
    expect(of(76).table.rows[0]!.at(-1)).toMatch(/min$/);
  });

  test('beside a case it stands where the reply is about the tint', () => {
    expect(isAboutTint(['clear-in-car'])).toBe(true);
    expect(isAboutTint(['near-too-low', 'swim'])).toBe(false);
  });
});

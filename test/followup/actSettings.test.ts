import { describe, expect, test } from 'vitest';
import { ACT_SETTINGS } from '../../src/causes/catalogue/acts.ts';
import { weigh } from '../../src/causes/weigh.ts';
import { actSettings } from '../../src/followup/actSettings.ts';

const cost = (settings: ReturnType<typeof actSettings>, act: keyof typeof ACT_SETTINGS.ways, way: string) =>
  settings.ways[act].find((one) => one.way === way)?.cost;

describe('what acts cost in a shop', () => {
  test('nothing filled in: as the catalogue has it', () => {
    expect(actSettings({}, 'counter')).toEqual(ACT_SETTINGS);
  });
  test('staff time at its own hour: 48 where 24 is usual doubles the talk and the adjustment', () => {
    const own = actSettings({ costs: { staffCostPerHour: 48 } }, 'counter');
    expect([cost(own, 'coach', 'by phone'), cost(own, 'adjust', 'at the shop')]).toEqual([12, 16]);
    expect(cost(own, 'adjust', 'at an optician near the wearer')).toBe(28);
    expect(cost(own, 'prescriber', 'at the shop')).toBe(30);
  });
  test('a remake is lenses and time, by post with the postage', () => {
    const own = actSettings(
      {
        costs: { lensesPerRemake: 180, staffHoursPerReturn: 1.5, staffCostPerHour: 20, postagePerReturn: 14 },
      },
      'post',
    );
    expect([cost(own, 'remake', 'at the shop'), cost(own, 'remake', 'by post')]).toEqual([210, 224]);
  });
  test('whose glasses went by post is not asked to come in', () => {
    const job = { cross_above_pupil_mm: -2, slips: false };
    const way = (how: 'counter' | 'post') =>
      weigh({ reply_labels: ['near-too-low'], job }, { settings: actSettings({}, how) }).act;
    expect(way('counter')).toMatchObject({ id: 'adjust', way: 'at the shop' });
    expect(way('post')).toMatchObject({ id: 'adjust', way: 'at an optician near the wearer' });
  });
});

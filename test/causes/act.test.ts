import { describe, expect, it } from 'vitest';
import { chooseAct } from '../../src/causes/act.ts';
import { adviceFor } from '../../src/causes/advice.ts';
import { costOfNothing, orderBench } from '../../src/causes/benchOrder.ts';
import { ACT_SETTINGS, type ActSettings } from '../../src/causes/catalogue/acts.ts';
import { CATALOGUE } from '../../src/causes/catalogue/index.ts';
import { causeName } from '../../src/causes/catalogue/names.ts';
import { type JobFacts, readJobFacts } from '../../src/causes/jobFacts.ts';
import { rankCauses } from '../../src/causes/rank.ts';
import { LABELS, type Label } from '../../src/replies/types.ts';

const act = (
  labels: readonly Label[],
  job: Readonly<Record<string, unknown>>,
  settings?: ActSettings,
  daysLeft?: Parameters<typeof chooseAct>[3],
) => {
  const facts: JobFacts = readJobFacts(job).facts;
  return chooseAct(rankCauses(labels, facts), labels, facts, daysLeft, settings);
};
const far: ActSettings = { ...ACT_SETTINGS, wearerIsFar: true };

describe('the act', () => {
  it('is the cheaper reversible one first: pads before a remake for a cross 1.5 mm too low', () => {
    const job = { day: 5, cross_above_pupil_mm: -1.5, slips: false, pads_adjustable: true };
    expect(act(['near-too-low'], job).id).toBe('adjust');
  });
  it('measures again where the frame cannot be adjusted that far', () => {
    const job = { day: 5, cross_above_pupil_mm: -4, slips: false, pads_adjustable: false };
    expect(act(['near-too-low'], job).id).toBe('re-measure');
  });
  it('remakes only what nothing cheaper cures, once it is likely enough', () => {
    const short = {
      fitting_height_mm: 15,
      design_min_height_mm: 18,
      corridor_mm: 14,
      cross_above_pupil_mm: 0,
    };
    expect(act(['near-blur', 'near-too-low'], short).id).toBe('remake');
    expect(act(['near-blur'], { day: 3 }).id).not.toBe('remake');
  });
  it('lets a dear remake wait for a cheaper look when the shop says that a remake costs more', () => {
    const job = { day: 30, motion_sick: true, bench_within_limits: true, cross_above_pupil_mm: 0 };
    expect(act(['swim'], job).id).toBe('remake');
    const dear = {
      ...ACT_SETTINGS,
      ways: { ...ACT_SETTINGS.ways, remake: [{ way: 'at the shop', cost: 900, days: 12 }] },
    } as const;
    expect(act(['swim'], job, dear).id).not.toBe('remake');
  });
  it('checks order and bench where the lensmeter disagrees, whoever is to blame', () => {
    expect(act(['distance-blur'], { read_R: [-1.5, 0, 0], order_R: [-2, 0, 0] }).id).toBe('check-order');
  });
  it('does not talk past a number that has been measured', () => {
    expect(act(['narrow-field'], { vertex_mm: 18, cross_nasal_mm: 0 }).id).toBe('adjust');
  });
  it('says why in one sentence with a number', () => {
    const { why } = act(['near-too-low'], { cross_above_pupil_mm: -2.1, slips: false });
    expect(why).toContain('lower cross 2.1 mm below the pupil');
    expect(why).toMatch(/\d+ in 100/);
  });
  it('names every cause in plain words, never by its key', () => {
    for (const { id } of CATALOGUE) expect(causeName(id), id).not.toMatch(/-/);
    const words = new Set(CATALOGUE.map(({ id }) => causeName(id)));
    expect(words.size).toBe(CATALOGUE.length);
    for (const label of LABELS) {
      const { why } = act([label], { day: 5 });
      for (const { id } of CATALOGUE) if (id.includes('-')) expect(why, label).not.toContain(id);
    }
  });
});

describe('the way of an act', () => {
  it('is the shop for a wearer who can come, an optician near by for one who cannot', () => {
    const crooked = { sat_on: true };
    expect(act(['crooked'], crooked).way).toBe('at the shop');
    expect(act(['crooked'], crooked, far).way).toBe('at an optician near the wearer');
  });
  it('sends pads and words by post for a frame that slides, and never asks a wearer to bend one', () => {
    const pads = act(['near-too-low', 'slipping'], { slips: true, push_up_helps: true }, far);
    expect(pads.way).toBe('by post');
    expect(pads.why).toContain('bending is for a shop');
    expect(act(['crooked'], { sat_on: true }, far).way).not.toBe('by post');
  });
  it('counts both deadlines: near the end of the window a miss costs more', () => {
    const cost = (daysLeft: { lab?: number; promise?: number }) =>
      act(['narrow-field'], { day: 5 }, undefined, daysLeft).expectedCosts[0]?.expectedCost ?? Number.NaN;
    expect(cost({ lab: 10, promise: 80 })).toBeGreaterThan(cost({ lab: 80, promise: 80 }));
    expect(cost({ lab: 80, promise: 10 })).toBeGreaterThan(cost({ lab: 80, promise: 80 }));
  });
});

describe('the bench', () => {
  const row = (caseId: string, over: Partial<Parameters<typeof orderBench>[0][number]> = {}) => ({
    caseId,
    danger: false,
    costOfNothing: 200,
    costOfBestAct: 80,
    ...over,
  });
  it('puts danger first, then what waiting costs a day', () => {
    const ordered = orderBench([
      row('far window', { daysLeft: 60 }),
      row('near window', { daysLeft: 6 }),
      row('danger', { danger: true, costOfNothing: 0 }),
      row('little at stake', { costOfNothing: 90, daysLeft: 6 }),
    ]);
    expect(ordered.map(({ caseId }) => caseId)).toEqual([
      'danger',
      'near window',
      'far window',
      'little at stake',
    ]);
    expect(ordered[1]?.worthADay).toBeCloseTo(20, 9);
  });
  it('presses most in the last hours and does not divide by nothing', () => {
    const [today] = orderBench([row('today', { daysLeft: 0 })]);
    expect(today?.worthADay).toBeCloseTo(240, 9);
  });
  it('holds waiting cheap for settling-in and dear for a cross out of place', () => {
    const wait = (labels: readonly Label[], job: Readonly<Record<string, unknown>>) =>
      costOfNothing(rankCauses(labels, readJobFacts(job).facts));
    expect(wait(['swim'], { day: 2, bench_within_limits: true })).toBeLessThan(200);
    expect(wait(['near-too-high'], { cross_above_pupil_mm: 3 })).toBeGreaterThan(280);
  });
});

describe('advice before a person has looked', () => {
  it('goes out for what is normal, and to nobody with one eye worse, double sight or a head held oddly', () => {
    expect(adviceFor('windscreen-uv', ['clear-in-car'])).toBe('windscreen-uv');
    expect(adviceFor('early-adaptation', ['swim'])).toBe('early-adaptation');
    for (const label of ['one-eye-off', 'doubling', 'near-too-high', 'near-too-low', 'urgent-eye'] as const) {
      expect(adviceFor('early-adaptation', ['swim', label]), label).toBeNull();
    }
  });
  it('never goes out for a cause that a shop has to put right', () => {
    expect(adviceFor('cross-too-high', ['distance-blur'])).toBeNull();
    expect(adviceFor(null, ['swim'])).toBeNull();
  });
});

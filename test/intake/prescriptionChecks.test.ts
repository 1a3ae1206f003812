import { describe, expect, it } from 'vitest';
import {
  factsOfPrescription,
  type PrescribedLens,
  readVisionPrescription,
  verticalDifferencePd,
} from '../../src/intake/fhir.ts';
import { frameGeometry, type LensOrderEye, readLensOrder } from '../../src/intake/lensOrder.ts';
import { type CheckRow, checkRows } from './checkRows.ts';

function expectRow(row: CheckRow, found: Record<string, unknown>): void {
  for (const [key, wanted] of Object.entries(row.expect)) {
    const held = found[key];
    if (typeof wanted === 'number' && row.tolerance?.[key] !== undefined) {
      expect(held, `${row.id} ${key}`).toBeTypeOf('number');
      expect(Math.abs((held as number) - wanted), `${row.id} ${key}`).toBeLessThanOrEqual(row.tolerance[key]);
    } else expect(held, `${row.id} ${key}`).toEqual(wanted);
  }
}

const prescribed = (side: string, lens: PrescribedLens | undefined): Record<string, unknown> => ({
  [`${side}_sphere_D`]: lens?.sphereD,
  [`${side}_cylinder_D`]: lens?.cylinderD,
  [`${side}_axis_deg`]: lens?.axisDeg,
  [`${side}_add_D`]: lens?.addD,
  [`${side}_prism_pd`]: lens?.prism[0]?.amountPd,
  [`${side}_base`]: lens?.prism[0]?.base,
  [`${side}_power_D`]: lens?.powerD,
  [`${side}_back_curve_mm`]: lens?.backCurveMm,
  [`${side}_diameter_mm`]: lens?.diameterMm,
});

const ordered = (side: string, lens: LensOrderEye): Record<string, unknown> => ({
  [`${side}_sphere_D`]: lens.sphereD,
  [`${side}_cylinder_D`]: lens.cylinderD,
  [`${side}_axis_deg`]: lens.axisDeg,
  [`${side}_add_D`]: lens.addD,
});

describe('FHIR R4 prescriptions against the printed examples', () => {
  const rows = [
    ...checkRows('optics', 'FHIR R4 example, glasses'),
    ...checkRows('optics', 'FHIR example, contacts'),
  ];
  it('has rows to check', () => expect(rows.length).toBeGreaterThan(0));
  it.each(rows.map((row) => [row.id, row.source, row] as const))('%s: %s', (_id, _source, row) => {
    const reading = readVisionPrescription(row.given.resource);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    const { right, left, spectacles } = reading.value;
    expectRow(row, {
      ...prescribed('right', right),
      ...prescribed('left', left),
      vertical_difference_right_minus_left_pd: verticalDifferencePd(reading.value),
      accept_for_spectacles: spectacles.ok,
    });
  });
});

describe('lens-order records against the printed sample', () => {
  const rows = checkRows('optics', 'lens-order records, right;left values');
  it('has rows to check', () => expect(rows.length).toBeGreaterThan(0));
  it.each(rows.map((row) => [row.id, row.source, row] as const))('%s: %s', (_id, _source, row) => {
    const reading = readLensOrder(row.given.text as string);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    const geometry = frameGeometry(reading.value);
    expectRow(row, {
      ...ordered('right', reading.value.right),
      ...ordered('left', reading.value.left),
      bridge_mm: reading.value.bridgeMm,
      frame_pd_mm: geometry.framePdMm,
      decentration_in_right_mm: geometry.decentrationInMm.R,
      fitting_height_above_midline_mm: geometry.heightAboveMidlineMm.R,
    });
  });
});

const lens = (eye: 'right' | 'left', more: Record<string, unknown> = {}) => ({
  product: { coding: [{ code: 'lens' }] },
  eye,
  sphere: -1,
  ...more,
});
const resource = (lensSpecification: unknown[], more: Record<string, unknown> = {}) => ({
  resourceType: 'VisionPrescription',
  id: '7',
  status: 'active',
  created: '2026-11-03',
  dateWritten: '2026-11-01',
  lensSpecification,
  ...more,
});

describe('what a FHIR prescription may and may not say', () => {
  it('keeps the day of the record and the day of writing apart', () => {
    const reading = readVisionPrescription(resource([lens('right')]));
    expect(reading).toMatchObject({ ok: true, value: { created: '2026-11-03', dateWritten: '2026-11-01' } });
  });

  it('leaves a missing sphere missing and makes no power of it', () => {
    const reading = readVisionPrescription(resource([lens('right', { sphere: undefined, add: 2 })]));
    if (!reading.ok) throw new Error('refused');
    expect(reading.value.right).toEqual({ addD: 2, prism: [] });
    expect(reading.value.warnings.join()).toMatch(/No sphere.*right/);
    expect(factsOfPrescription(reading.value).map(({ key }) => key)).toEqual(['add_D']);
  });

  it('gives the facts of a toric lens with prism in the signs of the bench', () => {
    const prism = [
      { amount: 0.5, base: 'down' },
      { amount: 1, base: 'out' },
    ];
    const reading = readVisionPrescription(
      resource([lens('left', { cylinder: 0.5, axis: 90, prism, add: 2.25 })]),
    );
    if (!reading.ok) throw new Error('refused');
    const facts = factsOfPrescription(reading.value).map(({ key, eye, value }) => [key, eye, value]);
    expect(facts).toEqual([
      ['rx', 'L', [-0.5, -0.5, 180]],
      ['add_D', 'L', 2.25],
      ['order_prism_up_pd', 'L', -0.5],
      ['order_prism_in_pd', 'L', -1],
    ]);
  });

  it('refuses contact lenses for spectacles and makes no facts of them', () => {
    const contact = {
      product: { coding: [{ code: 'contact' }] },
      eye: 'right',
      power: -2.75,
      backCurve: 8.7,
      diameter: 14,
    };
    const reading = readVisionPrescription(resource([contact]));
    if (!reading.ok) throw new Error('not read');
    expect(reading.value.right).toMatchObject({ powerD: -2.75, backCurveMm: 8.7, diameterMm: 14 });
    expect(reading.value.spectacles).toMatchObject({ ok: false, problems: [{ code: 'fhir-contact-lens' }] });
    expect(factsOfPrescription(reading.value)).toEqual([]);
  });

  it.each([
    ['a cylinder without axis', [lens('right', { cylinder: -0.5 })], 'fhir-axis-missing'],
    ['an axis without cylinder', [lens('right', { axis: 35 })], 'fhir-cylinder-missing'],
    ['a sphere of minus two hundred', [lens('right', { sphere: -200 })], 'fhir-out-of-range'],
    ['two lenses for one eye', [lens('right'), lens('right', { sphere: -2 })], 'fhir-eye-twice'],
    [
      'base up and base down at once',
      [
        lens('right', {
          prism: [
            { amount: 1, base: 'up' },
            { amount: 1, base: 'down' },
          ],
        }),
      ],
      'fhir-prism-twice',
    ],
    ['a power written as text', [lens('right', { sphere: '-1.00' })], 'fhir-shape'],
    ['no lens at all', [], 'fhir-shape'],
  ])('refuses %s', (_what, lenses, code) => {
    const reading = readVisionPrescription(resource(lenses));
    expect(reading.ok).toBe(false);
    if (!reading.ok) expect(reading.problems.map((problem) => problem.code)).toContain(code);
  });

  it.each(['cancelled', 'draft', 'entered-in-error'])(
    'makes no spectacles from a prescription that is %s',
    (status) => {
      const reading = readVisionPrescription(resource([lens('right')], { status }));
      expect(reading).toMatchObject({ ok: true, value: { spectacles: { ok: false } } });
    },
  );

  it.each([
    { held: null },
    { held: 'text' },
    { held: 7 },
    { held: [] },
    { held: { resourceType: 'Patient' } },
  ])('says of $held that it is no prescription', ({ held }) => {
    const reading = readVisionPrescription(held);
    expect(reading.ok ? [] : reading.problems[0]?.code).toBe('fhir-shape');
  });
});

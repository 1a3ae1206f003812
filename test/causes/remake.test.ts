import { describe, expect, it } from 'vitest';
import { readJobFacts } from '../../src/causes/jobFacts.ts';
import { learnWeights } from '../../src/causes/learnWeights.ts';
import { notePrescriber } from '../../src/causes/prescriberNote.ts';
import { rankCauses } from '../../src/causes/rank.ts';
import { draftRemake } from '../../src/causes/remakeDraft.ts';

const facts = (job: Readonly<Record<string, unknown>>) => readJobFacts(job).facts;
const BASE = {
  rx_R: [-2, -0.75, 90],
  rx_L: [-2.25, -0.5, 80],
  add_D: 2,
  fitting_height_mm: { R: 18, L: 18 },
  corridor_mm: 14,
};

describe('a remake, drafted', () => {
  it('raises each height by what the cross sits below the pupil: R 18.0 to 20.0 mm', () => {
    const { changes, changedJob } = draftRemake(
      'cross-too-low',
      facts({ ...BASE, cross_above_pupil_mm: { R: -2, L: -1.5 } }),
    );
    expect(changes.map(({ eye, from, to }) => [eye, from, to])).toEqual([
      ['R', '18.0 mm', '20.0 mm'],
      ['L', '18.0 mm', '19.5 mm'],
    ]);
    expect(changes[0]?.because).toBe('the cross sits 2.0 mm below the pupil as worn');
    expect(changedJob.fitting_height_mm).toEqual({ R: 20, L: 19.5 });
  });
  it('says by how much where the height of the first order is not known', () => {
    const [right] = draftRemake('cross-too-high', facts({ cross_above_pupil_mm: { R: 2, L: 2 } })).changes;
    expect(right).toMatchObject({ what: 'Fitting height', eye: 'R', to: '2.0 mm lower' });
    expect(right).not.toHaveProperty('from');
  });
  it('takes the corridor that leaves 4 mm of reading area in this frame', () => {
    // Trade CE, Nov 2015: corridor at most fitting height less 4 mm.
    const draft = draftRemake(
      'height-below-minimum',
      facts({ ...BASE, fitting_height_mm: 15, design_min_height_mm: 18 }),
    );
    expect(draft.changes[0]).toMatchObject({ what: 'Corridor', from: '14.0 mm', to: '11.0 mm or less' });
    expect(draft.changedJob.corridor_mm).toBe(11);
    expect(draft.changes[1]).toMatchObject({ what: 'Or frame', to: 'deeper below the pupil by 3.0 mm' });
  });
  it('orders what the prescription says where the order said otherwise', () => {
    const draft = draftRemake(
      'transcription-error',
      facts({ ...BASE, order_R: [2, -0.75, 90], order_L: BASE.rx_L }),
    );
    expect(draft.changes).toHaveLength(1);
    expect(draft.changes[0]).toMatchObject({
      eye: 'R',
      from: '+2.00 D -0.75 D x 90',
      to: '-2.00 D -0.75 D x 90',
    });
    expect(draft.changedJob.order_R).toEqual([-2, -0.75, 90]);
  });
  it('compensates a strong power for the vertex distance as worn', () => {
    // NFOS course 11a: F / (1 - dF). A lens of -10.00 ordered for 12 mm and worn at 16 mm must be about -10.42.
    const draft = draftRemake(
      'vertex-too-long',
      facts({ rx_R: [-10, 0, 0], vertex_mm: 16, vertex_assumed_mm: 12 }),
    );
    expect(draft.changes[0]).toMatchObject({ eye: 'R', from: '-10.00 D', to: '-10.42 D' });
  });
  it('gives the slab-off that the reading level needs', () => {
    // McCarthy, Back to basics in dispensing 8: +1.00 and +3.00 looking 10 mm down differ by 2 prism dioptres.
    const draft = draftRemake(
      'reading-level-imbalance',
      facts({ rx_R: [1, 0, 0], rx_L: [3, 0, 0], reading_level_mm_below_centre: 10 }),
    );
    expect(draft.changes[0]).toMatchObject({ eye: 'R', to: '2.00 prism dioptres, base up' });
  });
  it('carries the limits and what still predicts trouble in the changed job', () => {
    const draft = draftRemake(
      'cross-too-low',
      facts({ ...BASE, cross_above_pupil_mm: -2, rx_R: [-2, -0.75, 90] }),
    );
    const axis = draft.limits.find(({ what, eye }) => what === 'axis' && eye === 'R');
    expect(axis?.limit).toMatchObject({ limit: 5, unit: 'deg' });
    const before = draftRemake('coating-fault', facts({ ...BASE, fitting_height_mm: 17 }));
    expect(before.expectations.some(({ what }) => what === 'little near zone')).toBe(true);
    expect(draft.expectations.some(({ what }) => what === 'little near zone')).toBe(false);
  });
  it('goes nowhere unsigned, and a second remake asks first', () => {
    const first = draftRemake('coating-fault', {});
    expect(first.firstAnswer).toEqual([]);
    expect(first.orderNote).toContain('not to be sent before a licensed person has signed it');
    expect(first.orderNote).toContain('Confirm at the bench');
    expect(draftRemake('coating-fault', {}, 1).firstAnswer).toHaveLength(2);
  });
});

describe('the note to the prescriber', () => {
  it('holds prescription, readings, place, the wearer’s words and one question, and suggests no power', () => {
    const note = notePrescriber({
      leadingCause: 'distance-overplus',
      facts: facts({
        ...BASE,
        read_R: [-2, -0.75, 91],
        cross_above_pupil_mm: { R: 0, L: 0.2 },
        chin_down_helps: false,
      }),
      complaint: ['Signs are fuzzy when I drive'],
      triedSoFar: ['frame adjusted on day 6'],
    });
    expect(note.prescription.map(({ value }) => value)).toEqual([
      '-2.00 -0.75 x 90',
      '-2.25 -0.50 x 80',
      'R 2, L 2',
    ]);
    expect(note.ourReadings).toEqual([{ what: 'checked power, right', value: '-2.00 -0.75 x 91' }]);
    expect(note.placeOnFace[0]?.value).toBe('R 0, L 0.2');
    expect(note.complaint).toEqual(['Signs are fuzzy when I drive']);
    expect(note.question).toMatch(/\?$/);
    expect(note.sentBy).toBe('a person of the shop');
  });
});

describe('weights learned from outcomes', () => {
  const found = (caseId: string, cause: string, withdrawn = false) => ({
    caseId,
    cause,
    how: 'found at the bench' as const,
    withdrawn,
  });
  it('count the catalogue as a hundred cases', () => {
    // Dirichlet mean: (100 p + n) / (100 + N).
    const slipped = Array.from({ length: 25 }, (_, i) => found(`c${i}`, 'frame-slipped'));
    const { weights, moved } = learnWeights(slipped);
    const before = learnWeights([]).weights;
    const whole = Object.values(before).reduce((a, b) => a + b, 0);
    const p = (before['frame-slipped'] ?? 0) / whole;
    expect((weights['frame-slipped'] ?? 0) / whole).toBeCloseTo((100 * p + 25) / 125, 12);
    expect(moved[0]).toMatchObject({ cause: 'frame-slipped', cases: 25 });
    expect(Object.values(weights).reduce((a, b) => a + b, 0)).toBeCloseTo(whole, 9);
  });
  it('move the ranking, and come back when the outcome is withdrawn', () => {
    const share = (weights: Readonly<Record<string, number>>) =>
      rankCauses(['near-too-low'], {}, weights).find(({ cause }) => cause.id === 'cross-too-low')?.share;
    const twenty = Array.from({ length: 20 }, (_, i) => found(`c${i}`, 'cross-too-low'));
    const plain = share({}) ?? 0;
    expect(share(learnWeights(twenty).weights)).toBeGreaterThan(plain * 1.5);
    const withdrawn = learnWeights(twenty.map((one) => ({ ...one, withdrawn: true })));
    expect(withdrawn.moved).toEqual([]);
    expect(share(withdrawn.weights)).toBeCloseTo(plain, 12);
  });

  it('moves the PD to the wearer’s, or by what the cross sits off, and sets it for the order', () => {
    const off = draftRemake(
      'mono-pd-off',
      facts({ made_pd_mm: { R: 31, L: 31 }, wearer_pd_mm: { R: 33, L: 31.2 } }),
    );
    expect(off.changes.map(({ what, eye, from, to }) => [what, eye, from, to])).toEqual([
      ['PD', 'R', '31.0 mm', '33.0 mm'],
    ]);
    expect(off.changedJob.wearer_pd_mm).toEqual({ R: 33, L: 31 });
    const nasal = draftRemake(
      'mono-pd-off',
      facts({ wearer_pd_mm: { R: 31, L: 31 }, cross_nasal_mm: { R: 2, L: 0 } }),
    );
    expect(nasal.changes.map(({ what, eye, from, to }) => [what, eye, from, to])).toEqual([
      ['Monocular PD', 'R', '31.0 mm', '33.0 mm'],
    ]);
    expect(nasal.changedJob.wearer_pd_mm).toEqual({ R: 33, L: 31 });
  });
});

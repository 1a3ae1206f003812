import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LensOrder, readLensOrder, writeLensOrder } from '../../src/intake/lensOrder.ts';
import { factsOfLensOrder, lensOrderOfJob } from '../../src/intake/lensOrderFacts.ts';
import { readForm } from '../../src/intake/readForm.ts';

function read(text: string): LensOrder {
  const reading = readLensOrder(text);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.value;
}
function problemsOf(text: string): string[] {
  const reading = readLensOrder(text);
  return reading.ok ? [] : reading.problems.map(({ code }) => code);
}

describe('lens-order records', () => {
  it('reads job, eyes, missing values and axis 0', () => {
    const order = read('JOB=A-17\r\nDO=R\r\nSPH=-1.75;\r\nCYL=-0.50;?\r\nAX=0;\r\n');
    expect(order).toEqual({
      job: 'A-17',
      eyes: 'R',
      right: { sphereD: -1.75, cylinderD: -0.5, axisDeg: 180 },
      left: {},
      unknown: [],
    });
  });

  it('keeps records that it does not know as they stand', () => {
    expect(read('SPH=-1;-1\nPANTO=8;8\nXYZ=whatever=this').unknown).toEqual([
      { label: 'PANTO', value: '8;8' },
      { label: 'XYZ', value: 'whatever=this' },
    ]);
  });

  it('refuses near PD over distance PD, because programs swap the two', () => {
    expect(problemsOf('IPD=30;30\nNPD=32;30')).toEqual(['lens-order-pd-swapped']);
    expect(problemsOf('IPD=32;32\nNPD=30;32')).toEqual([]);
  });

  it('does not guess which eye a single value belongs to', () => {
    expect(problemsOf('SPH=-1.00')).toEqual(['lens-order-eye']);
    expect(read('DO=L\nSPH=-1.00').left).toEqual({ sphereD: -1 });
    expect(read('DO=R\nSPH=-1.00').right).toEqual({ sphereD: -1 });
  });

  it.each([
    ['a line without a label', 'SPH', 'lens-order-no-label'],
    ['a label twice', 'SPH=1;1\nSPH=2;2', 'lens-order-twice'],
    ['three values', 'SPH=1;1;1', 'lens-order-parts'],
    ['a word for a power', 'SPH=none;1', 'lens-order-value'],
    ['a sphere of 200', 'SPH=200;1', 'lens-order-value'],
    ['a cylinder without axis', 'SPH=1;1\nCYL=-1;0', 'lens-order-axis'],
    ['an eye that is not one', 'DO=X\nSPH=1;1', 'lens-order-eyes'],
  ])('refuses %s', (_what, text, code) => expect(problemsOf(text)).toContain(code));

  it('turns a base angle into base up and base in, whichever eye', () => {
    const order = read('SPH=0;0\nPRVA=0;0\nPRVM=2;2');
    const facts = factsOfLensOrder(order, 'read', 'file').filter(({ key }) => key === 'read_prism_in_pd');
    expect(facts.map(({ eye, value }) => [eye, value])).toEqual([
      ['R', 2],
      ['L', -2],
    ]);
    const up = factsOfLensOrder(read('PRVA=90;270\nPRVM=1;1'), 'order', 'file').filter(
      ({ key }) => key === 'order_prism_up_pd',
    );
    expect(up.map(({ value }) => value)).toEqual([1, -1]);
  });

  it('says of as-worn powers that they are the lab’s, and of read ones the lensmeter’s', () => {
    const order = read('SPH=-1;-1\nADD=2;2\nIPD=31;31');
    expect(factsOfLensOrder(order, 'as_worn', 'f').map(({ key, source }) => [key, source])).toEqual([
      ['as_worn', 'lab form'],
      ['as_worn_add_D', 'lab form'],
      ['as_worn', 'lab form'],
      ['as_worn_add_D', 'lab form'],
    ]);
    expect(factsOfLensOrder(order, 'read', 'f').map(({ key }) => key)).toContain('made_pd_mm');
  });

  it('writes what it reads, whatever the values', () => {
    const eighth = (low: number, high: number) =>
      fc.integer({ min: low * 8, max: high * 8 }).map((steps) => steps / 8 + 0);
    const eye = fc.record(
      {
        sphereD: eighth(-20, 20),
        cylinderD: eighth(-6, -1),
        axisDeg: fc.integer({ min: 1, max: 180 }),
        addD: eighth(0, 4),
        farPdMm: eighth(32, 40),
        nearPdMm: eighth(20, 30),
        fittingHeightMm: eighth(10, 30),
        baseCurveD: eighth(0, 10),
        prismBaseDeg: fc.integer({ min: 0, max: 360 }),
        prismPd: eighth(0, 6),
      },
      { requiredKeys: ['sphereD', 'axisDeg'] },
    );
    const orders = fc.record({
      job: fc.stringMatching(/^[A-Z0-9-]{1,12}$/),
      right: eye,
      left: eye,
      bridgeMm: eighth(10, 30),
    });
    fc.assert(
      fc.property(orders, (held) => {
        const order: LensOrder = { eyes: 'both', unknown: [{ label: 'ZZZ', value: '1;2' }], ...held };
        expect(read(writeLensOrder(order))).toEqual(order);
      }),
    );
  });

  it('lets no line end in a value begin a record of its own', () => {
    const order: LensOrder = { job: 'A\r\nSPH=9;9', eyes: 'both', right: {}, left: {}, unknown: [] };
    expect(read(writeLensOrder(order)).right).toEqual({});
  });

  it('never throws, whatever text it gets', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary' }), (text) => void readLensOrder(text)));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom('SPH', 'AX', 'DO', 'DBL', 'PRVM'), fc.string())),
        (lines) => void readLensOrder(lines.map(([label, value]) => `${label}=${value}`).join('\n')),
      ),
    );
  });
});

describe('the order written for the lab', () => {
  it('says in records what the form said', () => {
    const job = readForm(
      {
        job_number: '17',
        name: 'Ann Example',
        lens_design: 'Generic 14',
        order_R: '-2.00 / +0.50 x 90',
        order_L: 'plano',
        order_add_D_R: '2',
        order_add_D_L: '2',
        order_prism_R: '1 down',
        order_prism_L: '1 in',
        wearer_pd_mm: '31/30.5',
        fitting_height_mm_R: '20',
        frame_a_mm: '52',
        frame_b_mm: '38',
        dbl_mm: '18',
      },
      { country: 'US', invented: true, today: '2026-11-25' },
    );
    if (!job.ok) throw new Error(JSON.stringify(job.problems));
    expect(writeLensOrder(lensOrderOfJob(job.value.job)).split('\r\n')).toEqual([
      'JOB=17',
      'DO=B',
      'SPH=-1.50;0.00',
      'CYL=-0.50;0.00',
      'AX=180;180',
      'ADD=2.00;2.00',
      'IPD=31.0;30.5',
      'SEGHT=20.0;',
      'HBOX=52.0;52.0',
      'VBOX=38.0;38.0',
      'PRVA=270.0;180.0',
      'PRVM=1.00;1.00',
      'DBL=18',
      '',
    ]);
  });
});

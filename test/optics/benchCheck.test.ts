import { describe, expect, it } from 'vitest';
import { benchCheck } from '../../src/optics/benchCheck.ts';
import type { BenchJob, BenchLine, BenchReport, EyeOrder, EyeReading } from '../../src/optics/benchJob.ts';
import { rx } from './lenses.ts';

const order = (changed: Partial<EyeOrder> = {}): EyeOrder => ({
  lens: rx(-2, -1, 90),
  addD: 2,
  monocularPdMm: 31.5,
  fittingHeightMm: 20,
  ...changed,
});

const reading = (changed: Partial<EyeReading> = {}): EyeReading => ({
  lens: rx(-1.95, -0.92, 91),
  addD: 1.96,
  prism: { upPd: -1.3, inPd: 0 },
  monocularPdMm: 31.5,
  fittingHeightMm: 20,
  ...changed,
});

const asWorn = { lens: rx(-1.93, -0.9, 91), addD: 1.94 };

const job = (changed: Partial<BenchJob> = {}): BenchJob => ({
  kind: 'progressive',
  standard: 'ANSI Z80.1',
  compensated: true,
  order: { R: order(), L: order() },
  asWorn: { R: asWorn, L: asWorn },
  read: { R: reading(), L: reading() },
  ...changed,
});

const report = (given: BenchJob): BenchReport => {
  const checked = benchCheck(given);
  if (!checked.ok) throw new Error(checked.problems.map(({ what }) => what).join('; '));
  return checked.value;
};

const line = (given: BenchJob, quantity: string, eye: BenchLine['eye'] = 'R'): BenchLine => {
  const found = report(given).lines.find((one) => one.quantity === quantity && one.eye === eye);
  if (!found) throw new Error(`no line for ${quantity} ${eye}`);
  return found;
};

describe('a pair that is right', () => {
  it('passes on every line, each with what is left', () => {
    const { verdict, lines } = report(job());
    expect(lines.map(({ verdict: one }) => one)).not.toContain('out');
    expect(verdict).toBe('pass');
    expect(line(job(), 'sphere')).toMatchObject({
      comparedWith: 'as-worn',
      expected: -1.93,
      found: -1.95,
      error: -0.02,
      allowed: 0.16,
      marginLeft: 0.14,
      unit: 'D',
    });
  });

  it('says where each power is read', () => {
    expect(line(job(), 'sphere').readAt).toContain('distance circle above the cross');
    expect(line(job({ addReadOn: 'front' }), 'add').readAt).toContain('the front face');
    expect(line(job(), 'add').readAt).toContain('that the maker names');
    expect(line(job({ kind: 'multifocal' }), 'sphere').readAt).toContain('optical centre');
  });

  it('carries the cautions of what is from memory', () => {
    expect(report(job({ standard: 'ISO 21987' })).cautions).toEqual([
      'from memory: confirm against your copy of the standard',
    ]);
  });
});

describe('powers', () => {
  it("are held against the lab's as-worn powers and not against the order", () => {
    const made = { R: reading({ lens: rx(-1.78, -0.9, 91) }), L: reading() };
    expect(line(job({ read: made }), 'sphere')).toMatchObject({ verdict: 'pass', error: 0.15 });
    const likeTheOrder = { R: reading({ lens: rx(-2.1, -0.9, 91) }), L: reading() };
    expect(line(job({ read: likeTheOrder }), 'sphere')).toMatchObject({ verdict: 'out', marginLeft: -0.01 });
  });

  it('of a compensated lens without as-worn powers cannot be judged, however far they stand from the order', () => {
    const { asWorn: _gone, ...without } = job({ read: { R: reading({ lens: rx(-3) }), L: reading() } });
    for (const compensated of [true, 'unknown'] as const) {
      const found = report({ ...without, compensated });
      const powers = found.lines.filter(({ quantity }) =>
        ['sphere', 'cylinder', 'axis', 'add'].includes(quantity),
      );
      expect(powers).toHaveLength(8);
      expect(new Set(powers.map(({ verdict }) => verdict))).toEqual(new Set(['cannot-judge']));
      expect(powers[0]).toMatchObject({ found: -3, expected: null });
      expect(powers[0]?.reason).toContain('as-worn powers are not there');
      expect(found.verdict).toBe('cannot-judge');
    }
  });

  it('of a lens that was not compensated are held against the order', () => {
    const { asWorn: _gone, ...without } = job({ compensated: false });
    expect(line(without, 'sphere')).toMatchObject({ comparedWith: 'order', expected: -2, verdict: 'pass' });
    const single = { ...without, kind: 'single vision', compensated: 'unknown' } as const;
    expect(line(single, 'sphere')).toMatchObject({ comparedWith: 'order', allowed: 0.13 });
  });

  it('axis is taken round the circle; too weak a cylinder has no axis line', () => {
    const turned = {
      asWorn: { R: { lens: rx(-2, -1, 178), addD: 2 }, L: asWorn },
      read: { R: reading({ lens: rx(-2, -1, 3) }), L: reading() },
    };
    expect(line(job(turned), 'axis')).toMatchObject({ error: 5, allowed: 3, verdict: 'out', unit: 'deg' });
    const weak = job({ asWorn: { R: { lens: rx(-2), addD: 2 }, L: asWorn } });
    expect(report(weak).lines.some(({ quantity, eye }) => quantity === 'axis' && eye === 'R')).toBe(false);
  });

  it('by ISO 21987 the power across the axis has its own line', () => {
    const iso = job({ standard: 'ISO 21987' });
    expect(line(iso, 'power across the axis')).toMatchObject({
      expected: -2.83,
      found: -2.87,
      allowed: 0.12,
    });
    expect(report(job()).lines.some(({ quantity }) => quantity === 'power across the axis')).toBe(false);
  });

  it('what was not read cannot be judged, and the pair is then not passed', () => {
    const found = report(job({ read: { R: reading(), L: {} } }));
    expect(found.verdict).toBe('cannot-judge');
    expect(found.lines.filter(({ eye, verdict }) => eye === 'L' && verdict !== 'cannot-judge')).toEqual([]);
    expect(line(job({ read: { R: reading() } }), 'sphere', 'L').reason).toBe('power was not read');
  });

  it('an add out by more than 0.12 is out', () => {
    expect(line(job({ read: { R: reading({ addD: 1.8 }), L: reading() } }), 'add')).toMatchObject({
      verdict: 'out',
      error: -0.14,
      allowed: 0.12,
    });
  });

  it('an as-worn form without an add leaves the add of a compensated lens unjudged', () => {
    const given = job({ asWorn: { R: { lens: asWorn.lens }, L: asWorn } });
    expect(line(given, 'add').verdict).toBe('cannot-judge');
    expect(line({ ...given, compensated: false }, 'add')).toMatchObject({
      comparedWith: 'order',
      expected: 2,
    });
  });

  it('a job without an add has no add line', () => {
    const { addD: _none, ...single } = order();
    const given = job({
      kind: 'single vision',
      order: { R: single, L: single },
      asWorn: {},
      compensated: false,
    });
    expect(report(given).lines.some(({ quantity }) => quantity === 'add')).toBe(false);
  });
});

describe('right and left', () => {
  const own = { R: { lens: rx(-2, -1, 90), addD: 2 }, L: { lens: rx(-4, -0.5, 30), addD: 2 } };
  const read = (right: EyeReading['lens'], left: EyeReading['lens']) =>
    job({ asWorn: own, read: { R: reading({ lens: right! }), L: reading({ lens: left! }) } });

  it('lenses put in the wrong way round are told as such', () => {
    expect(report(read(own.L.lens, own.R.lens))).toMatchObject({ readSwapped: true, verdict: 'out' });
  });

  it('a right pair, one lens that is simply wrong, and a pair alike on both sides are not', () => {
    expect(report(read(own.R.lens, own.L.lens)).readSwapped).toBe(false);
    expect(report(read(own.L.lens, own.L.lens)).readSwapped).toBe(false);
    expect(report(job()).readSwapped).toBe(false);
    expect(report(job({ read: {} })).readSwapped).toBe(false);
  });
});

describe('prism', () => {
  it('thinning alike on both sides is no fault', () => {
    expect(line(job(), 'prism at the reference point')).toMatchObject({ found: 0, verdict: 'pass' });
    expect(line(job(), 'vertical imbalance', 'both')).toMatchObject({ found: 0, verdict: 'pass' });
  });

  it('unequal base down is out by the pair and at the lens that has more', () => {
    const read = { R: reading({ prism: { upPd: -1.8, inPd: 0 } }), L: reading() };
    expect(line(job({ read }), 'vertical imbalance', 'both')).toMatchObject({
      found: -0.5,
      allowed: 0.33,
      verdict: 'out',
    });
    expect(line(job({ read }), 'prism at the reference point', 'R').verdict).toBe('out');
    expect(line(job({ read }), 'prism at the reference point', 'L').verdict).toBe('pass');
  });

  it('of a progressive whose other lens was not read, thinning cannot be told from a fault', () => {
    const { prism: _none, ...unread } = reading();
    const given = job({ read: { R: reading(), L: unread } });
    expect(line(given, 'prism at the reference point')).toMatchObject({
      verdict: 'cannot-judge',
      found: 1.3,
    });
    const little = job({ read: { R: reading({ prism: { upPd: -0.3, inPd: 0 } }), L: unread } });
    expect(line(little, 'prism at the reference point').verdict).toBe('pass');
  });

  it('single vision has no thinning: base down on both is out', () => {
    const single = job({ kind: 'single vision', compensated: false });
    expect(line(single, 'prism at the reference point').verdict).toBe('out');
  });

  it('over 0.33 pd passes where the point is within a millimetre of its place, and says so', () => {
    const strong = rx(-6);
    const given = job({
      order: { R: order({ lens: strong }), L: order({ lens: strong }) },
      asWorn: { R: { lens: strong, addD: 2 }, L: { lens: strong, addD: 2 } },
      read: {
        R: reading({ lens: strong, prism: { upPd: 0, inPd: 0.5 } }),
        L: reading({ lens: strong, prism: { upPd: 0, inPd: 0 } }),
      },
    });
    const found = line(given, 'prism at the reference point');
    expect(found).toMatchObject({ found: 0.5, verdict: 'pass', marginLeft: 0 });
    expect(found.reason).toBe('point 0.8 mm from its place, 1 mm allowed');
    expect(line(given, 'horizontal imbalance', 'both')).toMatchObject({
      unit: 'mm',
      found: -0.8333,
      allowed: 1,
    });
  });

  it('the place is reckoned on the side of the eye that it belongs to', () => {
    const oblique = rx(-3, -4, 45);
    const prism = { upPd: 0.35, inPd: 0.35 };
    const given = job({
      compensated: false,
      order: { R: order({ lens: oblique }), L: order({ lens: oblique }) },
      asWorn: {},
      read: {
        R: reading({ lens: oblique, prism }),
        L: reading({ lens: oblique, prism: { upPd: -0.35, inPd: 0.35 } }),
      },
    });
    // Along 45 the lens has -3.00, across it -7.00: the same size of prism means 1.6 mm or 0.7 mm.
    expect(line(given, 'prism at the reference point', 'R').verdict).toBe('out');
    expect(line(given, 'prism at the reference point', 'L').verdict).toBe('out');
    const across = { ...prism, inPd: -0.35 };
    const other = { ...given, read: { ...given.read, R: reading({ lens: oblique, prism: across }) } };
    expect(line(other, 'prism at the reference point', 'R').reason).toBe(
      'point 0.7 mm from its place, 1 mm allowed',
    );
  });

  it('ordered prism is taken off first; ordered and compensated without the as-worn prism cannot be judged', () => {
    const prism = { upPd: 2, inPd: 0 };
    const ordered = { R: order({ prism }), L: order() };
    const read = {
      R: reading({ prism: { upPd: 2, inPd: 0.1 } }),
      L: reading({ prism: { upPd: 0, inPd: 0 } }),
    };
    const plain = job({ order: ordered, read, compensated: false });
    expect(line(plain, 'prism at the reference point')).toMatchObject({ found: 0.1, verdict: 'pass' });
    const blind = job({ order: ordered, read });
    expect(line(blind, 'prism at the reference point')).toMatchObject({ verdict: 'cannot-judge' });
    expect(line(blind, 'prism at the reference point').reason).toContain('as-worn prism is not there');
    expect(line(blind, 'vertical imbalance', 'both').verdict).toBe('cannot-judge');
    const told = job({
      order: ordered,
      read,
      asWorn: { R: { ...asWorn, prism: { upPd: 1.9, inPd: 0 } }, L: asWorn },
    });
    expect(line(told, 'prism at the reference point')).toMatchObject({ verdict: 'pass' });
  });

  it('of single vision is reckoned from the place of the centres where it was not read', () => {
    const { prism: _none, ...placed } = reading({ monocularPdMm: 34.5 });
    const given = job({
      kind: 'single vision',
      compensated: false,
      asWorn: {},
      read: { R: placed, L: placed },
    });
    // -3.00 along 180, each centre 3 mm too wide: 0.9 base in each.
    expect(line(given, 'horizontal imbalance', 'both')).toMatchObject({
      unit: 'mm',
      verdict: 'out',
      found: -6,
    });
    expect(line(given, 'prism at the reference point')).toMatchObject({ found: 0.9, verdict: 'out' });
  });

  it('by ISO 21987 only the relative prism of the pair is held', () => {
    const iso = job({ standard: 'ISO 21987' });
    expect(report(iso).lines.some(({ quantity }) => quantity === 'prism at the reference point')).toBe(false);
    expect(line(iso, 'vertical imbalance', 'both').allowed).toBe(0.5);
  });
});

describe('layout', () => {
  it('a cross 1 mm off passes with nothing left, 1.1 mm is out', () => {
    const at = (mm: number) => job({ read: { R: reading({ fittingHeightMm: mm }), L: reading() } });
    expect(line(at(21), 'fitting height')).toMatchObject({ verdict: 'pass', marginLeft: 0, unit: 'mm' });
    expect(line(at(18.9), 'fitting height')).toMatchObject({ verdict: 'out', error: -1.1 });
  });

  it('both within and opposite ways is out as a pair', () => {
    const read = { R: reading({ fittingHeightMm: 20.8 }), L: reading({ fittingHeightMm: 19.5 }) };
    expect(line(job({ read }), 'fitting heights against each other', 'both')).toMatchObject({
      found: 1.3,
      verdict: 'out',
    });
    expect(line(job({ read }), 'fitting height', 'R').verdict).toBe('pass');
  });

  it('a monocular PD 1.5 mm off is out in a progressive and in order in a bifocal', () => {
    const read = { R: reading({ monocularPdMm: 33 }), L: reading() };
    expect(line(job({ read }), 'monocular PD').verdict).toBe('out');
    expect(line(job({ read, kind: 'multifocal' }), 'monocular PD').verdict).toBe('pass');
  });

  it('marks, thickness and base curve are judged when they were looked at', () => {
    const read = {
      R: reading({ marksTiltDeg: -2.5, centreThicknessMm: 2.4, baseCurveD: 6 }),
      L: reading({ marksTiltDeg: 2 }),
    };
    const given = job({ read, order: { R: order({ centreThicknessMm: 2, baseCurveD: 5.5 }), L: order() } });
    expect(line(given, 'tilt of the marks', 'R').verdict).toBe('out');
    expect(line(given, 'tilt of the marks', 'L').verdict).toBe('pass');
    expect(line(given, 'centre thickness').verdict).toBe('out');
    expect(line(given, 'base curve')).toMatchObject({ verdict: 'pass', marginLeft: 0.25 });
    expect(line({ ...given, standard: 'ISO 21987' }, 'tilt of the marks').source).toBe('ISO 21987:2017');
    expect(line(given, 'tilt of the marks').source).toContain('ANSI Z80.1');
    expect(line({ ...given, standard: 'ISO 21987' }, 'centre thickness').source).toBe('ISO 8980-1:2004');
    expect(
      report({ ...given, standard: 'ISO 21987' }).lines.some(({ quantity }) => quantity === 'base curve'),
    ).toBe(false);
  });
});

describe('what cannot be', () => {
  it('is refused by name, with where it stands and the allowed range, before anything is judged', () => {
    const checked = benchCheck(
      job({
        read: { R: reading({ lens: rx(Number.NaN, -1, 200) }), L: reading() },
        order: { R: order({ fittingHeightMm: 41 }), L: order() },
        frame: { bMm: 38, aMm: 90 },
      }),
    );
    expect(checked.ok).toBe(false);
    if (checked.ok) return;
    expect(checked.problems.map(({ where, code }) => `${where}: ${code}`)).toEqual([
      'order frame frame A: out-of-range',
      'order R fitting height: height-over-b',
      'read R sphere: not-a-number',
      'read R axis: out-of-range',
    ]);
  });
});

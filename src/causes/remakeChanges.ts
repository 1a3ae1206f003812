import { longestCorridorMm } from '../optics/corridor.ts';
import { insetMm, USUAL_DESIGN_INSET_MM } from '../optics/inset.ts';
import { lensToMake } from '../optics/lensTilt.ts';
import { slabOffGuidance } from '../optics/readingImbalance.ts';
import type { SpheroCyl } from '../optics/spheroCyl.ts';
import { compensateLensForVertex } from '../optics/vertexCompensation.ts';
import type { BothEyes, FactPower, JobFacts } from './jobFacts.ts';
import { lensOf, powerAlong } from './opticsOfFacts.ts';

export type RemakeChange = {
  readonly what: string;
  readonly eye: 'R' | 'L' | 'both';
  /** As it is now, in words with its unit; absent where it is not known. */
  readonly from?: string;
  readonly to: string;
  readonly because: string;
  /** The job fact that the change sets, where it is one. */
  readonly sets?: JobFacts;
};

/** What a remake for this cause changes, from the numbers of the job. Where a number is missing the change says so. */
export const changesFor = (causeId: string, facts: JobFacts): readonly RemakeChange[] =>
  (CHANGES[causeId] ?? nothingOfItsOwn)(facts);

type Changes = (facts: JobFacts) => readonly RemakeChange[];
const EYES = ['R', 'L'] as const;
type Eye = (typeof EYES)[number];

const mm = (value: number): string => `${value.toFixed(1)} mm`;
const dioptres = (value: number): string => `${value > 0 ? '+' : ''}${value.toFixed(2)} D`;
const ofEye = (value: unknown, eye: Eye): number | undefined =>
  typeof value === 'number' ? value : (value as BothEyes | undefined)?.[eye];
const power = (facts: JobFacts, set: 'rx' | 'order' | 'read', eye: Eye): FactPower | undefined =>
  facts[`${set}_${eye}`] as FactPower | undefined;
const written = ([s, c, a]: FactPower): string =>
  c === 0 ? dioptres(s) : `${dioptres(s)} ${dioptres(c)} x ${a}`;
const asFact = ({ sphereD, cylinderD, axisDeg }: SpheroCyl): FactPower => [
  Math.round(sphereD * 100) / 100,
  Math.round(cylinderD * 100) / 100,
  Math.round(axisDeg),
];
const both = (value: unknown): BothEyes =>
  typeof value === 'number' ? { R: value, L: value } : ((value as BothEyes | undefined) ?? {});

const eachEye = (change: (eye: Eye) => RemakeChange | undefined): readonly RemakeChange[] =>
  EYES.map(change).filter((one) => one !== undefined);

const movedHeights: Changes = (facts) => {
  const heights: { R?: number; L?: number } = { ...both(facts.fitting_height_mm) };
  return eachEye((eye) => {
    const above = ofEye(facts.cross_above_pupil_mm, eye);
    if (above === undefined || Math.abs(above) < 0.5) return undefined;
    const now = heights[eye];
    const because = `the cross sits ${mm(Math.abs(above))} ${above > 0 ? 'above' : 'below'} the pupil as worn`;
    if (now === undefined) {
      return {
        what: 'Fitting height',
        eye,
        to: `${mm(Math.abs(above))} ${above > 0 ? 'lower' : 'higher'}`,
        because,
      };
    }
    heights[eye] = now - above;
    return {
      what: 'Fitting height',
      eye,
      from: mm(now),
      to: mm(now - above),
      because,
      sets: { fitting_height_mm: { ...heights } },
    };
  });
};

/** A tall wearer with the head back sees through a cross that sits right by the book: 1 to 2 mm lower (trade article). */
const LOWER_FOR_POSTURE_MM = 1.5;
const loweredForPosture: Changes = (facts) => {
  const moved = movedHeights(facts);
  if (moved.length > 0) return moved;
  return eachEye((eye) => {
    const now = ofEye(facts.fitting_height_mm, eye);
    return {
      what: 'Fitting height',
      eye,
      ...(now === undefined ? {} : { from: mm(now) }),
      to: now === undefined ? `${mm(LOWER_FOR_POSTURE_MM)} lower` : mm(now - LOWER_FOR_POSTURE_MM),
      because: 'the wearer looks through the progression when standing',
    };
  });
};

/** A PD over this is one of both eyes together. */
const BINOCULAR_PD_FROM_MM = 45;
const movedSideways: Changes = (facts) => {
  const pds: { R?: number; L?: number } = { ...both(facts.made_pd_mm ?? facts.wearer_pd_mm) };
  const ordered = (eye: Eye, toMm: number): { sets: JobFacts } => {
    pds[eye] = toMm;
    return { sets: { wearer_pd_mm: { ...pds } } };
  };
  return eachEye((eye) => {
    const nasal = ofEye(facts.cross_nasal_mm, eye);
    const made = ofEye(facts.made_pd_mm, eye);
    const wearer = ofEye(facts.wearer_pd_mm, eye);
    if (made !== undefined && wearer !== undefined && Math.abs(made - wearer) >= 0.5) {
      return {
        what: 'PD',
        eye,
        from: mm(made),
        to: mm(wearer),
        because: `the pair stands ${mm(Math.abs(made - wearer))} off the wearer's PD`,
        ...ordered(eye, wearer),
      };
    }
    if (nasal === undefined || Math.abs(nasal) < 0.5) return undefined;
    const because = `the cross sits ${mm(Math.abs(nasal))} ${nasal > 0 ? 'nasal' : 'temporal'} of the pupil`;
    const now = pds[eye];
    if (now === undefined || now > BINOCULAR_PD_FROM_MM)
      return {
        what: 'Monocular PD',
        eye,
        to: `${mm(Math.abs(nasal))} ${nasal > 0 ? 'larger' : 'smaller'}`,
        because,
      };
    return {
      what: 'Monocular PD',
      eye,
      from: mm(now),
      to: mm(now + nasal),
      because,
      ...ordered(eye, now + nasal),
    };
  });
};

const corridor = (
  facts: JobFacts,
  toMm: number | undefined,
  fallback: string,
  because: string,
): RemakeChange => {
  const now = facts.corridor_mm;
  return {
    what: 'Corridor',
    eye: 'both',
    ...(typeof now === 'number' ? { from: mm(now) } : {}),
    to: toMm === undefined ? fallback : `${mm(toMm)} or less`,
    because,
    ...(toMm === undefined ? {} : { sets: { corridor_mm: toMm } }),
  };
};
const lowestHeight = (facts: JobFacts): number | undefined => {
  const heights = EYES.map((eye) => ofEye(facts.fitting_height_mm, eye)).filter((h) => h !== undefined);
  return heights.length > 0 ? Math.min(...heights) : undefined;
};

const moreReadingRoom: Changes = (facts) => {
  const height = lowestHeight(facts);
  const minimum = facts.design_min_height_mm;
  const short = typeof minimum === 'number' && height !== undefined ? minimum - height : undefined;
  const because =
    height !== undefined && short !== undefined && short > 0
      ? `the fitting height of ${mm(height)} is ${mm(short)} under the least of the design`
      : 'the frame leaves too little of the near zone';
  return [
    corridor(facts, height === undefined ? undefined : longestCorridorMm(height), 'a shorter one', because),
    {
      what: 'Or frame',
      eye: 'both',
      to:
        short !== undefined && short > 0
          ? `deeper below the pupil by ${mm(short)}`
          : 'deeper below the pupil',
      because,
    },
  ];
};

const shorterCorridor: Changes = (facts) => {
  const now = facts.corridor_mm;
  return [
    corridor(
      facts,
      typeof now === 'number' ? now - 2 : undefined,
      'a shorter one',
      'the head goes back although the cross sits right',
    ),
  ];
};

const longerCorridor: Changes = (facts) => {
  const height = lowestHeight(facts);
  const now = facts.corridor_mm;
  return [
    {
      what: 'Corridor',
      eye: 'both',
      ...(typeof now === 'number' ? { from: mm(now) } : {}),
      to:
        height === undefined
          ? 'a longer one'
          : `a longer one, at most ${mm(longestCorridorMm(height))} in this frame`,
      because: 'a longer corridor widens the middle zone and softens the sides in proportion',
    },
  ];
};

const madeToOrder: Changes = (facts) =>
  eachEye((eye) => {
    const read = power(facts, 'read', eye);
    const order = power(facts, 'order', eye) ?? power(facts, 'rx', eye);
    if (!order) return undefined;
    return {
      what: 'Power',
      eye,
      ...(read ? { from: written(read) } : {}),
      to: written(order),
      because: 'the lens is to read what was ordered',
    };
  });

const orderToPrescription: Changes = (facts) => {
  const powers = eachEye((eye) => {
    const order = power(facts, 'order', eye);
    const rx = power(facts, 'rx', eye);
    if (!order || !rx || written(order) === written(rx)) return undefined;
    return {
      what: 'Power',
      eye,
      from: written(order),
      to: written(rx),
      because: 'the order is not what the prescription says',
      sets: { [`order_${eye}`]: rx } as JobFacts,
    };
  });
  const ordered = ofEye(facts.order_add_D, 'R');
  const prescribed = ofEye(facts.add_D, 'R');
  if (ordered === undefined || prescribed === undefined || ordered === prescribed) return powers;
  return [
    ...powers,
    {
      what: 'Addition',
      eye: 'both',
      from: dioptres(ordered),
      to: dioptres(prescribed),
      because: 'the order is not what the prescription says',
      sets: { order_add_D: facts.add_D } as JobFacts,
    },
  ];
};

const forVertexAsWorn: Changes = (facts) =>
  eachEye((eye) => {
    const order = power(facts, 'order', eye) ?? power(facts, 'rx', eye);
    const worn = ofEye(facts.vertex_mm, eye);
    const assumed = ofEye(facts.vertex_assumed_mm, eye);
    if (!order || worn === undefined || assumed === undefined) return undefined;
    const compensated = asFact(compensateLensForVertex(lensOf(order), assumed, worn));
    return {
      what: 'Power for the vertex distance as worn',
      eye,
      from: written(order),
      to: written(compensated),
      because: `it is worn at ${mm(worn)} and was ordered for ${mm(assumed)}`,
      sets: { [`order_${eye}`]: compensated } as JobFacts,
    };
  });

const INDEX_ASSUMED = 1.6;
const forWrap: Changes = (facts) =>
  eachEye((eye) => {
    const order = power(facts, 'order', eye) ?? power(facts, 'rx', eye);
    const wrapDeg = ofEye(facts.wrap_deg, eye);
    if (!order || wrapDeg === undefined) return undefined;
    const tiltDeg = ofEye(facts.tilt_deg, eye) ?? 0;
    const compensated = asFact(lensToMake(lensOf(order), { eye, tiltDeg, wrapDeg, index: INDEX_ASSUMED }));
    return {
      what: 'Power for tilt and wrap as worn (about, at index 1.6; the lab computes its own)',
      eye,
      from: written(order),
      to: written(compensated),
      because: `the front wraps by ${wrapDeg.toFixed(0)} degrees and was not compensated`,
    };
  });

const trueInset: Changes = (facts) =>
  eachEye((eye) => {
    const rx = power(facts, 'rx', eye);
    const distanceCm = facts.reading_cm_wanted;
    if (!rx || typeof distanceCm !== 'number') return undefined;
    const pdMm = ofEye(facts.wearer_pd_mm, eye);
    const monocular = pdMm === undefined ? 31 : pdMm > 45 ? pdMm / 2 : pdMm;
    return {
      what: 'Inset',
      eye,
      from: `${mm(USUAL_DESIGN_INSET_MM)} (usual of a design)`,
      to: mm(insetMm(monocular, distanceCm * 10, powerAlong(rx, 180))),
      because: `the wearer reads at ${distanceCm} cm through this power`,
    };
  });

const evenAtReadingLevel: Changes = (facts) => {
  const [right, left] = [power(facts, 'rx', 'R'), power(facts, 'rx', 'L')];
  if (!right || !left) return [];
  const belowMm =
    typeof facts.reading_level_mm_below_centre === 'number' ? facts.reading_level_mm_below_centre : 10;
  const { imbalancePd, slabOffEye } = slabOffGuidance(lensOf(right), lensOf(left), belowMm);
  if (slabOffEye === null) return [];
  return [
    {
      what: 'Slab-off, or a separate pair for reading',
      eye: slabOffEye,
      from: 'none',
      to: `${imbalancePd.toFixed(2)} prism dioptres, base up`,
      because: `looking ${mm(belowMm)} down makes that much difference between the eyes`,
    },
  ];
};

const one =
  (what: string, to: string, because: string, from?: string): Changes =>
  () => [{ what, eye: 'both', ...(from === undefined ? {} : { from }), to, because }];

const previousCurve: Changes = (facts) => {
  const [now, before] = [ofEye(facts.base_curve_D, 'R'), ofEye(facts.prev_base_curve_D, 'R')];
  return [
    {
      what: 'Base curve',
      eye: 'both',
      ...(now === undefined ? {} : { from: dioptres(now) }),
      to: before === undefined ? 'that of the previous pair' : dioptres(before),
      because: 'the front curve is far from the previous pair with the same power',
    },
  ];
};

const orderedItem: Changes = (facts) => [
  {
    what: 'Item',
    eye: 'both',
    ...(typeof facts.option_found === 'string' ? { from: facts.option_found } : {}),
    to: typeof facts.option_ordered === 'string' ? facts.option_ordered : 'as ordered',
    because: 'what came is not what was ordered',
  },
];

const nothingOfItsOwn: Changes = () => [];

const CHANGES: Readonly<Record<string, Changes>> = {
  'cross-too-high': loweredForPosture,
  'cross-too-low': movedHeights,
  'cross-uneven': movedHeights,
  'mono-pd-off': movedSideways,
  'inset-mismatch': trueInset,
  'height-below-minimum': moreReadingRoom,
  'corridor-too-long': shorterCorridor,
  'corridor-too-short': longerCorridor,
  'vertex-too-long': forVertexAsWorn,
  'wrap-mismatch': forWrap,
  'marks-rotated': one('Marks', 'level within 2 degrees', 'a lens is turned in the frame'),
  'power-not-to-order': madeToOrder,
  'lenses-swapped': madeToOrder,
  'cyl-or-axis-off': madeToOrder,
  'transcription-error': orderToPrescription,
  'unwanted-prism-horizontal': (facts) => [
    ...movedSideways(facts),
    ...one('Prism', 'none beyond thinning', 'it was not ordered')(facts),
  ],
  'unwanted-prism-vertical': one('Prism', 'equal on both sides, thinning only', 'it was not ordered'),
  'reading-level-imbalance': evenAtReadingLevel,
  'base-curve-change': previousCurve,
  'low-abbe-material': one('Material', 'V number 40 or more', 'colours spread at the edges in this power'),
  'lens-reflections': one(
    'Anti-reflection coating',
    'on both sides of both lenses',
    'reflections disturb',
    'none',
  ),
  'coating-fault': one('Coating', 'the same, new', 'the coating came faulty or failed early'),
  'coating-damage': one('Coating', 'the same, new', 'heat or a strong cleaner has damaged it'),
  'design-unsuited': one(
    'Design',
    'softer, with a longer corridor, or another lens type',
    'this design does not suit',
  ),
  'expectation-gap': one('Lens type', 'one that gives what is wanted most', 'this lens cannot give it'),
  'wrong-item-sent': orderedItem,
  'not-light-reactive': one('Lenses', 'light-reactive, both', 'they do not darken in open sun'),
  'pair-mismatch': one('Lenses', 'both together, of one batch', 'the two do not tint alike'),
  'thickness-tint': one('Material', 'plastic with an even tint', 'glass tints by its thickness', 'glass'),
  'dye-fatigue': one('Lenses', 'both, new', 'the dye has tired'),
};

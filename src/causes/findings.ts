import type { LensKind } from '../optics/limit.ts';
import type { Label } from '../replies/types.ts';
import {
  type BothEyes,
  FACT_KEYS,
  type FactPower,
  type FactValue,
  type JobFactKey,
  type JobFacts,
} from './jobFacts.ts';
import {
  addWithinLimit,
  comfortableCm,
  difference,
  farEndCm,
  fringePdAt,
  imageDifferencePct,
  imbalanceFromPlace,
  insetOffMm,
  powerAlong,
  readingImbalancePd,
  strongestMeridian,
  tiltCylinderD,
  usualAdd,
  vertexEffectD,
  withinLimits,
} from './opticsOfFacts.ts';

export type FindingValue = number | boolean | string;
type Finding = {
  /** The facts that it rests on; the first names it. All are needed unless the function says otherwise. */
  readonly facts: readonly JobFactKey[];
  readonly of: (facts: JobFacts) => FindingValue | undefined;
  readonly words: (value: FindingValue) => string;
};

const num = (facts: JobFacts, key: JobFactKey): number | undefined => {
  const value = facts[key];
  return typeof value === 'number' ? value : undefined;
};
const words = (facts: JobFacts, key: JobFactKey): string | undefined => {
  const value = facts[key];
  return typeof value === 'string' ? value.toLowerCase() : undefined;
};
const power = (facts: JobFacts, key: JobFactKey): FactPower | undefined => {
  const value = facts[key];
  return Array.isArray(value) ? (value as FactPower) : undefined;
};
const both = (facts: JobFacts, key: JobFactKey): BothEyes | undefined => {
  const value = facts[key];
  return typeof value === 'object' && !Array.isArray(value) ? (value as BothEyes) : undefined;
};
const eachEye = (facts: JobFacts, key: JobFactKey): readonly number[] => {
  const value = both(facts, key);
  return value ? [value.R, value.L].filter((v) => v !== undefined) : [];
};
const highest = (values: readonly number[]): number | undefined =>
  values.length > 0 ? Math.max(...values) : undefined;
const lowest = (values: readonly number[]): number | undefined =>
  values.length > 0 ? Math.min(...values) : undefined;
const farthest = (values: readonly number[]): number | undefined =>
  values.length > 0 ? values.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a)) : undefined;
const between = (values: readonly number[]): number | undefined =>
  values.length === 2 ? Math.abs((values[0] as number) - (values[1] as number)) : undefined;
const minus = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined || b === undefined ? undefined : a - b;

const mm = (v: FindingValue): string => `${Math.abs(v as number).toFixed(1)} mm`;
const d = (v: FindingValue): string => `${Math.abs(v as number).toFixed(2)} D`;
const deg = (v: FindingValue): string => `${Math.abs(v as number).toFixed(0)} degrees`;
const pd = (v: FindingValue): string => `${Math.abs(v as number).toFixed(2)} prism dioptres`;
const sign = (v: FindingValue, over: string, under: string): string => ((v as number) >= 0 ? over : under);

const EYES = ['R', 'L'] as const;
type Eye = (typeof EYES)[number];
type PowerSet = 'rx' | 'prev' | 'read' | 'order';
const powerOf = (facts: JobFacts, set: PowerSet, eye: Eye): FactPower | undefined =>
  power(facts, `${set}_${eye}`);

const lensKind = (facts: JobFacts): LensKind => {
  const type = words(facts, 'lens_type');
  if (type === undefined || /progress|varifocal|(^|[^a-z])multifocal/.test(type)) return 'progressive';
  return /bifocal|trifocal/.test(type) ? 'multifocal' : 'single vision';
};
/** What the lab was asked; a shop that keeps no separate order asked for the prescription. */
const asked = (facts: JobFacts, eye: Eye): FactPower | undefined =>
  powerOf(facts, 'order', eye) ?? powerOf(facts, 'rx', eye);

const overEyes = <T>(of: (eye: Eye) => T | undefined): readonly T[] =>
  EYES.map(of).filter((v): v is T => v !== undefined);

const madeAgainstAsked = (facts: JobFacts) =>
  overEyes((eye) => {
    const read = powerOf(facts, 'read', eye);
    const order = asked(facts, eye);
    return read && order
      ? {
          ...withinLimits(read, order, lensKind(facts)),
          ...difference(read, order),
          cylinderAsked: order[1],
        }
      : undefined;
  });

/** True when one eye is so; that no eye is so can be said only when both are known. */
const anyEye = <T>(eyes: readonly T[], isSo: (eye: T) => boolean): boolean | undefined => {
  if (eyes.some(isSo)) return true;
  return eyes.length === 2 ? false : undefined;
};
/** The largest of both eyes; of one known eye only where it is already large, since the other may be. */
const largestKnown = (values: readonly number[], large: number): number | undefined => {
  const most = highest(values);
  return most === undefined || (values.length < 2 && most < large) ? undefined : most;
};

const change = (facts: JobFacts) =>
  overEyes((eye) => {
    const now = powerOf(facts, 'rx', eye);
    const before = powerOf(facts, 'prev', eye);
    return now && before ? { ...difference(now, before), now, before } : undefined;
  });

const obliqueAxis = ([, c, a]: FactPower): boolean => {
  const fromStraight = Math.min(a % 90, 90 - (a % 90));
  return Math.abs(c) >= 0.5 && fromStraight > 20;
};

const wornPowers = (facts: JobFacts): readonly FactPower[] =>
  overEyes((eye) => powerOf(facts, 'rx', eye) ?? powerOf(facts, 'order', eye));
/** The addition prescribed; where it was not kept, the one ordered or read. */
const addOf = (facts: JobFacts): readonly number[] =>
  (['add_D', 'order_add_D', 'read_add_D'] as const)
    .map((key) => eachEye(facts, key))
    .find((all) => all.length > 0) ?? [];
const strongestPower = (facts: JobFacts): number | undefined =>
  farthest(wornPowers(facts).map(strongestMeridian));
const pairOfPowers = (facts: JobFacts): readonly [FactPower, FactPower] | undefined => {
  const powers = wornPowers(facts);
  return powers.length === 2 ? [powers[0] as FactPower, powers[1] as FactPower] : undefined;
};

/** A PD over this is one of both eyes together: half of its error falls to each. */
const BINOCULAR_PD_FROM_MM = 45;
const nasalOffMm = (made: number | undefined, wearer: number | undefined): number | undefined => {
  const wider = minus(made, wearer);
  return wider === undefined ? undefined : -wider * ((wearer as number) > BINOCULAR_PD_FROM_MM ? 0.5 : 1);
};
const sidewaysPrism = (facts: JobFacts, nasalMm: (eye: Eye) => number | undefined): number | undefined => {
  const pair = pairOfPowers(facts);
  const [right, left] = [nasalMm('R'), nasalMm('L')];
  if (!pair || right === undefined || left === undefined) return undefined;
  const found = imbalanceFromPlace(
    { power: pair[0], nasalMm: right, aboveMm: 0 },
    { power: pair[1], nasalMm: left, aboveMm: 0 },
  );
  return Math.abs(found.horizontalInPd);
};

const anyText =
  (...keys: readonly JobFactKey[]) =>
  (facts: JobFacts): string | undefined => {
    const told = keys.map((key) => words(facts, key)).filter((v) => v !== undefined);
    return told.length > 0 ? told.join('; ') : undefined;
  };

const said = (pattern: RegExp, ...keys: readonly JobFactKey[]) => {
  const told = anyText(...keys);
  return (facts: JobFacts): boolean | undefined => {
    const text = told(facts);
    return text === undefined ? undefined : pattern.test(text);
  };
};

/** Numbers and answers that are made out of one or more job facts before a cause is weighed. */
export const DERIVED = {
  // Height of the cross
  crossHighestMm: {
    facts: ['cross_above_pupil_mm'],
    of: (f) => highest(eachEye(f, 'cross_above_pupil_mm')),
    words: (v) => `higher cross ${mm(v)} ${sign(v, 'above', 'below')} the pupil`,
  },
  crossLowestMm: {
    facts: ['cross_above_pupil_mm'],
    of: (f) => lowest(eachEye(f, 'cross_above_pupil_mm')),
    words: (v) => `lower cross ${mm(v)} ${sign(v, 'above', 'below')} the pupil`,
  },
  crossMeanMm: {
    facts: ['cross_above_pupil_mm'],
    of: (f) => {
      const all = eachEye(f, 'cross_above_pupil_mm');
      return all.length > 0 ? all.reduce((a, b) => a + b, 0) / all.length : undefined;
    },
    words: (v) => `cross ${mm(v)} ${sign(v, 'above', 'below')} the pupil`,
  },
  crossUnevenMm: {
    facts: ['cross_above_pupil_mm'],
    of: (f) => between(eachEye(f, 'cross_above_pupil_mm')),
    words: (v) => `crosses differ by ${mm(v)}`,
  },
  standing: {
    facts: ['blur_when', 'when', 'where'],
    of: (f) => {
      const told = anyText('blur_when', 'when', 'where')(f);
      if (told === undefined || !/stand|walk|on (my|the|her|his) feet|sit|seat|both/.test(told))
        return undefined;
      return /stand|walk|feet/.test(told) && !/both|(when|while|also|and) s(it|eat)/.test(told);
    },
    words: (v) => (v ? 'worse standing' : 'not only standing'),
  },
  heightMeasuredSeated: {
    facts: ['measured'],
    of: said(/seat|sit/, 'measured'),
    words: (v) => (v ? 'height was measured seated' : 'height was not measured seated'),
  },
  heightShortMm: {
    facts: ['fitting_height_mm', 'design_min_height_mm'],
    of: (f) => minus(num(f, 'design_min_height_mm'), lowest(eachEye(f, 'fitting_height_mm'))),
    words: (v) => `fitting height ${mm(v)} ${sign(v, 'under', 'over')} the least of the design`,
  },
  nearZoneLeftMm: {
    facts: ['fitting_height_mm', 'corridor_mm'],
    of: (f) => minus(lowest(eachEye(f, 'fitting_height_mm')), num(f, 'corridor_mm')),
    words: (v) => `${(v as number).toFixed(1)} mm of near zone left in the frame`,
  },
  centreHeightUnevenMm: {
    facts: ['centre_height_error_mm'],
    of: (f) => between(eachEye(f, 'centre_height_error_mm')),
    words: (v) => `optical centres differ by ${mm(v)} in height`,
  },
  centreHeightPrismPd: {
    facts: ['centre_height_error_mm', 'rx_R', 'rx_L'],
    of: (f) => {
      const at = both(f, 'centre_height_error_mm');
      const pair = pairOfPowers(f);
      if (!at || !pair || at.R === undefined || at.L === undefined) return undefined;
      const right = { power: pair[0], nasalMm: 0, aboveMm: at.R };
      return Math.abs(imbalanceFromPlace(right, { power: pair[1], nasalMm: 0, aboveMm: at.L }).verticalPd);
    },
    words: (v) => `centre heights make ${pd(v)} of vertical imbalance`,
  },

  // Sideways
  crossNasalWorstMm: {
    facts: ['cross_nasal_mm'],
    of: (f) => highest(eachEye(f, 'cross_nasal_mm').map(Math.abs)),
    words: (v) => `a cross ${mm(v)} to the side of its pupil`,
  },
  pdOffMm: {
    facts: ['made_pd_mm', 'wearer_pd_mm'],
    of: (f) => {
      const made = both(f, 'made_pd_mm');
      const wearer = both(f, 'wearer_pd_mm');
      if (!made || !wearer) return undefined;
      return highest(
        EYES.map((eye) => minus(made[eye], wearer[eye]))
          .filter((v) => v !== undefined)
          .map(Math.abs),
      );
    },
    words: (v) => `PD of the pair ${mm(v)} off the wearer's`,
  },
  pdPrismPd: {
    facts: ['made_pd_mm', 'wearer_pd_mm', 'rx_R', 'rx_L'],
    of: (f) => {
      const made = both(f, 'made_pd_mm');
      const wearer = both(f, 'wearer_pd_mm');
      return made && wearer ? sidewaysPrism(f, (eye) => nasalOffMm(made[eye], wearer[eye])) : undefined;
    },
    words: (v) => `PD error makes ${pd(v)} of horizontal imbalance`,
  },
  crossPrismPd: {
    facts: ['cross_nasal_mm', 'rx_R', 'rx_L'],
    of: (f) => {
      const at = both(f, 'cross_nasal_mm');
      return at ? sidewaysPrism(f, (eye) => at[eye]) : undefined;
    },
    words: (v) => `centring makes ${pd(v)} of horizontal imbalance`,
  },
  insetOffMm: {
    facts: ['reading_cm_wanted', 'rx_R', 'rx_L'],
    of: (f) => {
      const distanceCm = num(f, 'reading_cm_wanted');
      const rx = powerOf(f, 'rx', 'R') ?? powerOf(f, 'rx', 'L');
      return distanceCm === undefined || !rx ? undefined : insetOffMm(rx, distanceCm);
    },
    words: (v) => `inset wanted is ${mm(v)} off what designs usually have`,
  },
  oneSided: {
    facts: ['side'],
    of: (f) => {
      const side = words(f, 'side');
      return side === undefined
        ? undefined
        : /right|left|one|nasal|temporal/.test(side) && !/both|alike/.test(side);
    },
    words: (v) => (v ? 'on one side' : 'on both sides'),
  },

  // Close and tilt
  vertexLongestMm: {
    facts: ['vertex_mm'],
    of: (f) => highest(eachEye(f, 'vertex_mm')),
    words: (v) => `vertex distance ${mm(v)}`,
  },
  vertexOverAssumedMm: {
    facts: ['vertex_mm', 'vertex_assumed_mm'],
    of: (f) => minus(highest(eachEye(f, 'vertex_mm')), highest(eachEye(f, 'vertex_assumed_mm'))),
    words: (v) => `vertex distance ${mm(v)} ${sign(v, 'over', 'under')} what the order assumed`,
  },
  vertexUnevenMm: {
    facts: ['vertex_mm'],
    of: (f) => between(eachEye(f, 'vertex_mm')),
    words: (v) => `vertex distances differ by ${mm(v)}`,
  },
  vertexEffectD: {
    facts: ['vertex_mm', 'vertex_assumed_mm', 'rx_R', 'rx_L'],
    of: (f) => {
      const worn = highest(eachEye(f, 'vertex_mm'));
      const assumed = highest(eachEye(f, 'vertex_assumed_mm')) ?? 13;
      const strongest = strongestPower(f);
      return worn === undefined || strongest === undefined
        ? undefined
        : vertexEffectD(strongest, assumed, worn);
    },
    words: (v) => `vertex distance changes the power by ${d(v)}`,
  },
  tiltLargestDeg: {
    facts: ['tilt_deg'],
    of: (f) => highest(eachEye(f, 'tilt_deg')),
    words: (v) => `tilt ${deg(v)}`,
  },
  tiltOverAssumedDeg: {
    facts: ['tilt_deg', 'tilt_assumed_deg'],
    of: (f) => minus(highest(eachEye(f, 'tilt_deg')), highest(eachEye(f, 'tilt_assumed_deg')) ?? 10),
    words: (v) => `tilt ${deg(v)} ${sign(v, 'over', 'under')} what the order assumed`,
  },
  tiltEffectD: {
    facts: ['tilt_deg', 'rx_R', 'rx_L'],
    of: (f) => {
      const tilt = highest(eachEye(f, 'tilt_deg'));
      const strongest = strongestPower(f);
      return tilt === undefined || strongest === undefined ? undefined : tiltCylinderD(strongest, tilt);
    },
    words: (v) => `tilt adds ${d(v)} of cylinder`,
  },
  wrapLargestDeg: {
    facts: ['wrap_deg'],
    of: (f) => highest(eachEye(f, 'wrap_deg')),
    words: (v) => `wrap ${deg(v)}`,
  },
  marksTiltDeg: {
    facts: ['marks_tilt_deg'],
    of: (f) => highest(eachEye(f, 'marks_tilt_deg').map(Math.abs)),
    words: (v) => `engraving line ${deg(v)} off level`,
  },

  // Made against order, order against prescription
  madeSphereOut: {
    facts: ['read_R', 'read_L', 'order_R', 'order_L'],
    of: (f) => {
      return anyEye(madeAgainstAsked(f), (eye) => !eye.sphere);
    },
    words: (v) =>
      v ? 'sphere read outside the limit of the order' : 'sphere read within the limit of the order',
  },
  madeCylinderOut: {
    facts: ['read_R', 'read_L', 'order_R', 'order_L'],
    of: (f) => {
      return anyEye(madeAgainstAsked(f), (eye) => !eye.cylinder || !eye.axis);
    },
    words: (v) => (v ? 'cylinder or axis read outside the limit' : 'cylinder and axis read within the limit'),
  },
  madeErrorD: {
    facts: ['read_R', 'read_L', 'order_R', 'order_L'],
    of: (f) => highest(madeAgainstAsked(f).map((eye) => eye.sizeD)),
    words: (v) => `checked power differs from the order by ${d(v)}`,
  },
  madeAddErrorD: {
    facts: ['read_add_D', 'order_add_D', 'add_D'],
    of: (f) => {
      const read = both(f, 'read_add_D');
      const order = both(f, 'order_add_D') ?? both(f, 'add_D');
      if (!read || !order) return undefined;
      return farthest(overEyes((eye) => minus(read[eye], order[eye])));
    },
    words: (v) => `addition read ${d(v)} ${sign(v, 'over', 'under')} the order`,
  },
  madeAddOut: {
    facts: ['read_add_D', 'order_add_D', 'add_D'],
    of: (f) => {
      const read = both(f, 'read_add_D');
      const order = both(f, 'order_add_D') ?? both(f, 'add_D');
      if (!read || !order) return undefined;
      const outside = overEyes((eye) => {
        const [made, ordered] = [read[eye], order[eye]];
        return made === undefined || ordered === undefined
          ? undefined
          : !addWithinLimit(made - ordered, ordered);
      });
      return anyEye(outside, (out) => out);
    },
    words: (v) => (v ? 'addition read outside the limit of the order' : 'addition read within the limit'),
  },
  lensesSwapped: {
    facts: ['read_R', 'read_L', 'order_R', 'order_L'],
    of: (f) => {
      const [readR, readL] = [powerOf(f, 'read', 'R'), powerOf(f, 'read', 'L')];
      const [orderR, orderL] = [asked(f, 'R'), asked(f, 'L')];
      if (!readR || !readL || !orderR || !orderL) return undefined;
      const straight = difference(readR, orderR).sizeD + difference(readL, orderL).sizeD;
      const crossed = difference(readR, orderL).sizeD + difference(readL, orderR).sizeD;
      return straight > 0.5 && crossed < 0.3 && crossed < straight / 3;
    },
    words: (v) =>
      v
        ? 'the right lens reads as the left was ordered, and the left as the right'
        : 'the lenses are not swapped',
  },
  orderErrorD: {
    facts: ['order_R', 'order_L', 'rx_R', 'rx_L'],
    of: (f) =>
      largestKnown(
        overEyes((eye) => {
          const order = powerOf(f, 'order', eye);
          const rx = powerOf(f, 'rx', eye);
          return order && rx ? difference(order, rx).sizeD : undefined;
        }),
        0.12,
      ),
    words: (v) => `order differs from the prescription by ${d(v)}`,
  },
  orderAddErrorD: {
    facts: ['order_add_D', 'add_D'],
    of: (f) => {
      const order = both(f, 'order_add_D');
      const add = both(f, 'add_D');
      if (!order || !add) return undefined;
      return highest(
        EYES.map((eye) => minus(order[eye], add[eye]))
          .filter((v) => v !== undefined)
          .map(Math.abs),
      );
    },
    words: (v) => `ordered addition differs from the prescription by ${d(v)}`,
  },

  // Prescription against the previous pair
  changeD: {
    facts: ['rx_R', 'rx_L', 'prev_R', 'prev_L'],
    of: (f) =>
      largestKnown(
        change(f).map((eye) => eye.sizeD),
        0.76,
      ),
    words: (v) => `change of ${d(v)} from the previous pair`,
  },
  changePlusD: {
    facts: ['rx_R', 'rx_L', 'prev_R', 'prev_L'],
    of: (f) => farthest(change(f).map((eye) => eye.meanD)),
    words: (v) => `${d(v)} ${sign(v, 'more plus', 'more minus')} than the previous pair`,
  },
  changeCylinderD: {
    facts: ['rx_R', 'rx_L', 'prev_R', 'prev_L'],
    of: (f) =>
      largestKnown(
        change(f).map((eye) => eye.cylinderD),
        0.49,
      ),
    words: (v) => `cylinder changed by ${d(v)}`,
  },
  changeCylinderOblique: {
    facts: ['rx_R', 'rx_L', 'prev_R', 'prev_L'],
    of: (f) => {
      const eyes = change(f);
      return eyes.length > 0 ? eyes.some((eye) => eye.cylinderD >= 0.37 && obliqueAxis(eye.now)) : undefined;
    },
    words: (v) => (v ? 'changed cylinder at an oblique axis' : 'no changed oblique cylinder'),
  },
  cylinderLargestD: {
    facts: ['rx_R', 'rx_L'],
    of: (f) => highest(wornPowers(f).map(([, c]) => Math.abs(c))),
    words: (v) => `cylinder ${d(v)}`,
  },
  strongestPowerD: {
    facts: ['rx_R', 'rx_L'],
    of: (f) => {
      const strongest = strongestPower(f);
      return strongest === undefined ? undefined : Math.abs(strongest);
    },
    words: (v) => `power ${d(v)}`,
  },
  eyesDifferD: {
    facts: ['rx_R', 'rx_L'],
    of: (f) => {
      const pair = pairOfPowers(f);
      return pair ? Math.abs(difference(pair[0], pair[1]).meanD) : undefined;
    },
    words: (v) => `right and left differ by ${d(v)}`,
  },
  eyesDifferAlong90D: {
    facts: ['rx_R', 'rx_L'],
    of: (f) => {
      const pair = pairOfPowers(f);
      return pair ? Math.abs(powerAlong(pair[0], 90) - powerAlong(pair[1], 90)) : undefined;
    },
    words: (v) => `right and left differ by ${d(v)} along 90`,
  },
  readingImbalancePd: {
    facts: ['rx_R', 'rx_L', 'reading_level_mm_below_centre'],
    of: (f) => {
      const pair = pairOfPowers(f);
      return pair
        ? readingImbalancePd(pair[0], pair[1], num(f, 'reading_level_mm_below_centre') ?? 10)
        : undefined;
    },
    words: (v) => `${pd(v)} of vertical difference at the reading level`,
  },
  imageDifferencePct: {
    facts: ['rx_R', 'rx_L'],
    of: (f) => {
      const pair = pairOfPowers(f);
      return pair ? imageDifferencePct(pair[0], pair[1], highest(eachEye(f, 'vertex_mm')) ?? 13) : undefined;
    },
    words: (v) => `image sizes differ by about ${(v as number).toFixed(1)} %`,
  },

  // Addition and age
  addOverAgeD: {
    facts: ['add_D', 'age_y'],
    of: (f) => {
      const usual = usualAdd(num(f, 'age_y') ?? 0);
      return usual ? minus(highest(addOf(f)), usual.highD) : undefined;
    },
    words: (v) => `addition ${d(v)} ${sign(v, 'over', 'under')} the upper usual value for the age`,
  },
  addUnderAgeD: {
    facts: ['add_D', 'age_y'],
    of: (f) => {
      const usual = usualAdd(num(f, 'age_y') ?? 0);
      return usual ? minus(usual.lowD, lowest(addOf(f))) : undefined;
    },
    words: (v) => `addition ${d(v)} ${sign(v, 'under', 'over')} the lower usual value for the age`,
  },
  addLargestD: {
    facts: ['add_D'],
    of: (f) => highest(addOf(f)),
    words: (v) => `addition ${d(v)}`,
  },
  addChangeD: {
    facts: ['add_D', 'prev_add_D'],
    of: (f) => minus(highest(addOf(f)), highest(eachEye(f, 'prev_add_D'))),
    words: (v) => `addition ${d(v)} ${sign(v, 'over', 'under')} the previous pair's`,
  },
  readingPastFarEndCm: {
    facts: ['reading_cm_wanted', 'add_D'],
    of: (f) => {
      const add = highest(addOf(f));
      return add ? minus(num(f, 'reading_cm_wanted'), farEndCm(add)) : undefined;
    },
    words: (v) =>
      `reads ${Math.abs(v as number).toFixed(0)} cm ${sign(v, 'beyond', 'inside')} the far end of the addition`,
  },
  readingShortOfComfortCm: {
    facts: ['reading_cm_wanted', 'add_D', 'age_y'],
    of: (f) => {
      const add = lowest(addOf(f));
      const age = num(f, 'age_y');
      const wanted = num(f, 'reading_cm_wanted');
      return add && age !== undefined && wanted !== undefined ? comfortableCm(add, age) - wanted : undefined;
    },
    words: (v) =>
      `reads ${Math.abs(v as number).toFixed(0)} cm ${sign(v, 'nearer than', 'beyond')} the nearest comfortable distance`,
  },
  screenPastFarEndCm: {
    facts: ['screen_cm', 'add_D'],
    of: (f) => {
      const add = highest(addOf(f));
      return add ? minus(num(f, 'screen_cm'), farEndCm(add)) : undefined;
    },
    words: (v) =>
      `screen ${Math.abs(v as number).toFixed(0)} cm ${sign(v, 'beyond', 'inside')} the far end of the addition`,
  },

  // Prism, image, material
  prismSidewaysPd: {
    facts: ['prism_h_imbalance_pd'],
    of: (f) => absolute(num(f, 'prism_h_imbalance_pd')),
    words: (v) => `${pd(v)} of unordered horizontal imbalance`,
  },
  prismUpDownPd: {
    facts: ['prism_v_imbalance_pd'],
    of: (f) => absolute(num(f, 'prism_v_imbalance_pd')),
    words: (v) => `${pd(v)} of unordered vertical imbalance`,
  },
  prismBothUpPd: {
    facts: ['prism_both_base_up_pd'],
    of: (f) => absolute(farthest(eachEye(f, 'prism_both_base_up_pd'))),
    words: (v) => `${pd(v)} of prism of one direction on both sides`,
  },
  baseCurveChangeD: {
    facts: ['base_curve_D', 'prev_base_curve_D'],
    of: (f) => absolute(minus(highest(eachEye(f, 'base_curve_D')), highest(eachEye(f, 'prev_base_curve_D')))),
    words: (v) => `base curve ${d(v)} off the previous pair`,
  },
  fringePd: {
    facts: ['abbe', 'rx_R', 'rx_L'],
    of: (f) => {
      const abbe = num(f, 'abbe');
      const strongest = strongestPower(f);
      return abbe === undefined || strongest === undefined ? undefined : fringePdAt(strongest, 10, abbe);
    },
    words: (v) =>
      `colour spread ${(v as number).toFixed(2)} prism dioptres 10 mm off the centre (about 0.1 is noticed)`,
  },
  lensAgeMonths: {
    facts: ['lens_age_months'],
    of: (f) => highest(eachEye(f, 'lens_age_months')),
    words: (v) => `lens ${v} months old`,
  },
  lensAgesDifferMonths: {
    facts: ['lens_age_months'],
    of: (f) => between(eachEye(f, 'lens_age_months')),
    words: (v) => `lenses ${v} months apart in age`,
  },
  fadedPct: {
    facts: ['faded_transmittance_pct'],
    of: (f) => lowest(eachEye(f, 'faded_transmittance_pct')),
    words: (v) => `${v} % of light passes when faded`,
  },

  somethingOut: {
    facts: [
      'cross_above_pupil_mm',
      'cross_nasal_mm',
      'made_pd_mm',
      'vertex_mm',
      'tilt_deg',
      'fitting_height_mm',
      'marks_tilt_deg',
      'read_R',
      'read_L',
      'read_add_D',
      'order_R',
      'order_L',
      'order_add_D',
      'prism_h_imbalance_pd',
      'prism_v_imbalance_pd',
      'prism_both_base_up_pd',
      'wrap_deg',
    ],
    of: (f) =>
      OUT_OF_LIMITS.some((isOut) => isOut(f)) || belowPupil(f) || madeOut(f) || tiltOff(f) ? true : undefined,
    words: () => 'something measured is out of limits',
  },

  // Answers in words
  lookingDown: {
    facts: ['when', 'blur_when', 'where'],
    of: said(/down|lower|read|stair|step|kerb|curb/, 'when', 'blur_when', 'where'),
    words: (v) => (v ? 'when looking down' : 'not when looking down'),
  },
  onSteps: {
    facts: ['when', 'blur_when', 'where'],
    of: said(/stair|step|kerb|curb|floor/, 'when', 'blur_when', 'where'),
    words: (v) => (v ? 'on steps or kerbs' : 'not on steps'),
  },
  atNight: {
    facts: ['when', 'blur_when', 'light', 'where'],
    of: said(/night|dark|dusk|headlight|oncoming/, 'when', 'blur_when', 'light', 'where'),
    words: (v) => (v ? 'at night' : 'not said to be at night'),
  },
  inShade: {
    facts: ['where', 'light', 'when'],
    of: said(
      /tree|shade|brim|hat|dusk|evening|dawn|morning|winter|overcast|cloud|window|glass|indoor|inside|conservatory|veranda|porch/,
      'where',
      'light',
      'when',
    ),
    words: (v) => (v ? 'little ultraviolet where it happened' : 'not said to be in shade'),
  },
  behindGlass: {
    facts: ['where', 'when', 'light'],
    of: said(/car\b|driv|windscreen|windshield|van|truck|bus|cab/, 'where', 'when', 'light'),
    words: (v) => (v ? 'while driving' : 'not said to be in a car'),
  },
  nearWindow: {
    facts: ['where', 'light'],
    of: said(/window|conservatory|glass|lamp/, 'where', 'light'),
    words: (v) => (v ? 'by a window' : 'away from windows'),
  },
  atEdges: {
    facts: ['zone', 'where', 'when'],
    of: said(/edge|side|periph|corner/, 'zone', 'where', 'when'),
    words: (v) => (v ? 'toward the edges' : 'not only at the edges'),
  },
  farZone: {
    facts: ['zone'],
    of: said(/dist|far/, 'zone'),
    words: (v) => (v ? 'in the distance zone' : 'not in the distance zone'),
  },
  nearZone: {
    facts: ['zone', 'when', 'blur_when'],
    of: said(/near|read|print|close/, 'zone', 'when', 'blur_when'),
    words: (v) => (v ? 'at near' : 'not at near'),
  },
  behindEar: {
    facts: ['sore', 'pressure_at'],
    of: said(/behind|back of/, 'sore', 'pressure_at'),
    words: (v) => (v ? 'sore behind the ear' : 'not behind the ear'),
  },
  atTempleFront: {
    facts: ['sore', 'pressure_at'],
    of: said(
      /temple|front of (the |both |my )?ear|in front|side of (the |my )?head|above (the |my )?ear/,
      'sore',
      'pressure_at',
    ),
    words: (v) => (v ? 'presses at the side of the head' : 'not at the side of the head'),
  },
  atNose: {
    facts: ['sore', 'pressure_at'],
    of: said(/nose|pad|bridge/, 'sore', 'pressure_at'),
    words: (v) => (v ? 'presses on the nose' : 'not on the nose'),
  },
  oneEarOtherNose: {
    facts: ['sore', 'pressure_at'],
    of: said(
      /(one|right|left) (ear|side).*(other|opposite|nose)|(other|opposite) side|one ear/,
      'sore',
      'pressure_at',
    ),
    words: (v) => (v ? 'sore at one ear and the other side of the nose' : 'sore on both sides alike'),
  },
  suddenly: {
    facts: ['onset'],
    of: said(/sudden/, 'onset'),
    words: (v) => (v ? 'came suddenly' : 'did not come suddenly'),
  },
  gradually: {
    facts: ['onset'],
    of: said(/gradual|slow/, 'onset'),
    words: (v) => (v ? 'came gradually' : 'did not come gradually'),
  },
  withNewGlassesOnly: {
    facts: ['onset'],
    of: said(/new glasses|new pair|new lens/, 'onset'),
    words: (v) => (v ? 'began with the new glasses' : 'did not begin with the new glasses'),
  },
  eyeConditionKnown: {
    facts: ['known'],
    of: said(/catar|cloud|macul|glauc|diabet|retin|kerato|cornea|dry eye|stroke|optic/, 'known'),
    words: (v) => (v ? 'an eye condition is on record' : 'no eye condition on record'),
  },
  squintKnown: {
    facts: ['known'],
    of: said(/phoria|tropia|squint|vergence|binocular|lazy|ambly|prism/, 'known'),
    words: (v) => (v ? 'trouble with the two eyes together is on record' : 'none on record'),
  },
  oneEyeSurgeryKnown: {
    facts: ['known', 'says'],
    of: said(
      /(surgery|operat|implant|iol|catar|aphak).*(one|right|left)|one.*(surgery|operat|implant|iol|aphak)/,
      'known',
      'says',
    ),
    words: (v) => (v ? 'one eye was operated on' : 'no operation on one eye'),
  },
  saysBackInOld: {
    facts: ['says', 'when'],
    of: said(
      /(back|swap|switch|chang|altern|go(es|ing)?|keep).*(old|previous|other|reader)|old (ones|pair|glasses) (at|for|most|half|in the)|half the (day|time)|on and off|off and on|part[- ]time|only wear|weekend|now and then|(few|couple of) hours|hour a day|take(s)? them off|in (the|a) (drawer|case)/,
      'says',
      'when',
    ),
    words: (v) => (v ? 'goes back to the previous pair' : 'does not say so'),
  },
  saysNotTold: {
    facts: ['says'],
    of: said(
      /nobody (told|said|explain)|no one (told|said|explain)|wasn.?t told|not told|expected|thought (they|it|i) (would|could)|like (my )?(old )?single|whole (screen|page|width)|full width/,
      'says',
    ),
    words: (v) => (v ? 'expected what the lens cannot give' : 'does not say so'),
  },
  saysOfPriceOrLook: {
    facts: ['says'],
    of: said(
      /price|cost|money|spend|spent|afford|expensive|cheaper|refund|push(ed|y)|pressur|talked into|chang(ed|e) (my|her|his|their) mind|style|look(s)? (on|of|awful|silly|old)|(don.?t|not|never) (like|suit)|friend|partner|husband|wife|daughter|son\b|sister|online/,
      'says',
    ),
    words: (v) => (v ? 'speaks of price, looks or another’s remark' : 'does not say so'),
  },
  saysDownhill: {
    facts: ['says', 'when', 'where'],
    of: said(/downhill|uphill|slop(es|ing) (down|up)/, 'says', 'when', 'where'),
    words: (v) => (v ? 'like walking downhill or uphill' : 'no slope told'),
  },
  saysClearNotRight: {
    facts: ['says'],
    of: said(
      /clear,? but|sharp,? but|something.{0,20}(off|wrong|not right)|(just|somehow) (feels )?(not right|wrong|odd|off)/,
      'says',
    ),
    words: (v) => (v ? 'clear, but not right' : 'not told to be clear but not right'),
  },
  saysChinUp: {
    facts: ['says', 'when'],
    of: said(
      /head (is |goes |tipped |tilted )?back|chin (is |goes |has to |must )?(come |go )?up|(lift|rais).{0,15}chin|neck/,
      'says',
      'when',
    ),
    words: (v) => (v ? 'the chin comes up' : 'the chin is not said to come up'),
  },
  saysChinDown: {
    facts: ['says', 'when'],
    of: said(
      /chin (is |goes |has to |must )?(come |go )?(down|in)|(drop|tuck|lower).{0,15}chin|head (goes |must go )?down/,
      'says',
      'when',
    ),
    words: (v) => (v ? 'the chin goes down' : 'the chin is not said to go down'),
  },
  middleZone: {
    facts: ['zone'],
    of: said(/inter|middle|arm/, 'zone'),
    words: (v) => (v ? 'in the middle zone' : 'not in the middle zone'),
  },
  dizzyKnown: {
    facts: ['known'],
    of: said(/vertigo|dizz|inner ear|balance|travel|motion/, 'known'),
    words: (v) => (v ? 'dizziness is on record' : 'no dizziness on record'),
  },
  optionMissing: {
    facts: ['option_ordered', 'option_found'],
    of: (f) => {
      const ordered = words(f, 'option_ordered');
      const found = words(f, 'option_found');
      return ordered === undefined || found === undefined ? undefined : ordered !== found;
    },
    words: (v) => (v ? 'the option found is not the option ordered' : 'the option found is the one ordered'),
  },
  newToMultifocals: {
    facts: ['previous_lens'],
    of: (f) => {
      const before = words(f, 'previous_lens');
      return before === undefined ? undefined : !/progress|varifocal|multifocal/.test(before);
    },
    words: (v) => (v ? 'first multifocal' : 'wore multifocals before'),
  },
  woreBifocal: {
    facts: ['previous_lens'],
    of: said(/bifocal|trifocal/, 'previous_lens'),
    words: (v) => (v ? 'bifocal before' : 'no bifocal before'),
  },
  woreSingleVision: {
    facts: ['previous_lens'],
    of: said(/single|reader|none/, 'previous_lens'),
    words: (v) => (v ? 'single vision before' : 'not single vision before'),
  },
  multifocal: {
    facts: ['lens_type'],
    of: (f) => (words(f, 'lens_type') === undefined ? undefined : lensKind(f) !== 'single vision'),
    words: (v) => (v ? 'multifocal lenses' : 'not multifocal lenses'),
  },
  glassLens: {
    facts: ['material'],
    of: said(/\bglass|mineral/, 'material'),
    words: (v) => (v ? 'glass lenses' : 'not glass'),
  },
  templesTight: {
    facts: ['temples'],
    of: said(/tight|narrow|squeez/, 'temples'),
    words: (v) => (v ? 'temples tight' : 'temples not tight'),
  },
  templesLoose: {
    facts: ['temples'],
    of: said(/loose|spread|wide/, 'temples'),
    words: (v) => (v ? 'temples loose' : 'temples not loose'),
  },
  templeBendWrong: {
    facts: ['temples', 'sore', 'says'],
    of: said(/bend|curl|hook|drop|end.?tip/, 'temples', 'sore', 'says'),
    words: (v) => (v ? 'bend of the temple end spoken of' : 'bend not spoken of'),
  },
} satisfies Readonly<Record<string, Finding>>;

const belowPupil = (facts: JobFacts): boolean =>
  (lowest(eachEye(facts, 'cross_above_pupil_mm')) ?? 0) <= -0.95;
const madeOut = (facts: JobFacts): boolean =>
  findingOf('madeSphereOut', facts) === true ||
  findingOf('madeCylinderOut', facts) === true ||
  findingOf('madeAddOut', facts) === true;
const tiltOff = (facts: JobFacts): boolean => {
  const tilt = highest(eachEye(facts, 'tilt_deg'));
  return tilt !== undefined && (tilt < 5 || tilt >= 14);
};

/** What a bench or face check would call out of limits, each with the limit that its own rule uses. */
const OUT_OF_LIMITS: readonly ((facts: JobFacts) => boolean)[] = (
  [
    ['crossHighestMm', 0.95],
    ['crossUnevenMm', 1.9],
    ['crossNasalWorstMm', 1.05],
    ['pdOffMm', 1.05],
    ['vertexLongestMm', 15],
    ['vertexUnevenMm', 2],
    ['heightShortMm', 0.05],
    ['marksTiltDeg', 2.05],
    ['orderErrorD', 0.12],
    ['orderAddErrorD', 0.12],
    ['prismSidewaysPd', 0.68],
    ['prismUpDownPd', 0.34],
    ['prismBothUpPd', 1.5],
    ['wrapLargestDeg', 10.5],
  ] as const
).map(([id, from]) => (facts: JobFacts) => {
  const value = findingOf(id, facts);
  return typeof value === 'number' && value >= from;
});

const absolute = (value: number | undefined): number | undefined =>
  value === undefined ? undefined : Math.abs(value);

export type DerivedId = keyof typeof DERIVED;
/** What was said counts as a finding too, where a number matters only beside a certain complaint. */
export type SaidId = `said ${Label}`;
export type FindingId = DerivedId | JobFactKey | SaidId;
const derived: Readonly<Record<string, Finding>> = DERIVED;

/** The value of a finding for these facts; absent when a fact that it needs is unknown. */
export const findingOf = (id: FindingId, facts: JobFacts): FindingValue | undefined => {
  const made = derived[id];
  if (made) return made.of(facts);
  const value = facts[id as JobFactKey];
  return typeof value === 'string' ? value.toLowerCase() : plain(value);
};

const plain = (value: FactValue | undefined): FindingValue | undefined =>
  typeof value === 'object' ? undefined : value;

/** The job fact that names a finding: its own key, or the first of those it rests on that is known. */
export const factBehind = (id: FindingId, facts: JobFacts): JobFactKey => {
  const made = derived[id];
  if (!made) return id as JobFactKey;
  return made.facts.find((key) => facts[key] !== undefined) ?? (made.facts[0] as JobFactKey);
};

/** Every job fact that a finding rests on. */
export const factsBehind = (id: FindingId): readonly JobFactKey[] => derived[id]?.facts ?? [id as JobFactKey];

/** The finding in words: "lower cross 2.1 mm below the pupil". */
export const findingWords = (id: FindingId, value: FindingValue): string => {
  const made = derived[id];
  if (made) return made.words(value);
  const said = FACT_KEYS[id as JobFactKey].words;
  if (value === true) return said;
  if (value === false) return `not so: ${said}`;
  return `${said}: ${value}`;
};

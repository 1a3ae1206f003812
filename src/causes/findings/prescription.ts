import type { FactPower } from '../jobFacts.ts';
import { difference, imageDifferencePct, powerAlong, readingImbalancePd } from '../opticsOfFacts.ts';
import {
  d,
  eachEye,
  type Findings,
  farthest,
  highest,
  largestKnown,
  num,
  oncePerJob,
  overEyes,
  pairOfPowers,
  pd,
  powerOf,
  sign,
  strongestPower,
  wornPowers,
} from './reading.ts';

const change = oncePerJob((facts) =>
  overEyes((eye) => {
    const now = powerOf(facts, 'rx', eye);
    const before = powerOf(facts, 'prev', eye);
    return now && before ? { ...difference(now, before), now } : undefined;
  }),
);

const obliqueAxis = ([, c, a]: FactPower): boolean => {
  const fromStraight = Math.min(a % 90, 90 - (a % 90));
  return Math.abs(c) >= 0.5 && fromStraight > 20;
};

/** Prescription against the previous pair, and the two eyes against each other. */
export const PRESCRIPTION = {
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
} satisfies Findings;

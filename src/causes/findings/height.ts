import { imbalanceFromPlace } from '../opticsOfFacts.ts';
import {
  anyText,
  between,
  both,
  eachEye,
  type Findings,
  highest,
  lowest,
  minus,
  mm,
  num,
  pairOfPowers,
  pd,
  said,
  sign,
} from './reading.ts';

/** How high the crosses sit, and how much room the frame leaves below them. */
export const HEIGHT = {
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
} satisfies Findings;

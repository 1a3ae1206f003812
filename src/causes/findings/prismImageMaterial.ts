import { fringePdAt } from '../opticsOfFacts.ts';
import {
  absolute,
  between,
  d,
  eachEye,
  type Findings,
  farthest,
  highest,
  lowest,
  minus,
  num,
  pd,
  strongestPower,
} from './reading.ts';

/** Prism, image size, colour and age of the lenses. */
export const PRISM_IMAGE_MATERIAL = {
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
} satisfies Findings;

import { comfortableCm, farEndCm, usualAdd } from '../opticsOfFacts.ts';
import { addOf, d, eachEye, type Findings, highest, lowest, minus, num, sign } from './reading.ts';

/** Addition against age and against the distances that are wanted. */
export const ADDITION = {
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
} satisfies Findings;

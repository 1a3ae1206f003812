import type { JobFacts } from '../jobFacts.ts';
import { imbalanceFromPlace, insetOffMm } from '../opticsOfFacts.ts';
import {
  both,
  EYES,
  type Eye,
  eachEye,
  type Findings,
  highest,
  minus,
  mm,
  num,
  pairOfPowers,
  pd,
  powerOf,
  words,
} from './reading.ts';

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

/** Where the crosses and centres sit sideways, and the prism that this makes. */
export const SIDEWAYS = {
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
} satisfies Findings;

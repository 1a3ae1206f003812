import type { JobFacts } from '../jobFacts.ts';
import { tiltCylinderD, vertexEffectD } from '../opticsOfFacts.ts';
import {
  between,
  d,
  deg,
  eachEye,
  type Findings,
  highest,
  minus,
  mm,
  sign,
  strongestPower,
} from './reading.ts';

/** What older designs assume where nothing else was ordered. Source: trade CE item, 2015. */
const USUAL_VERTEX_MM = 13;
const USUAL_TILT_DEG = 10;
const vertexAssumedMm = (facts: JobFacts): number =>
  highest(eachEye(facts, 'vertex_assumed_mm')) ?? USUAL_VERTEX_MM;

/** How far from the eyes the lenses stand, and how they are tilted and turned. */
export const CLOSE_AND_TILT = {
  vertexLongestMm: {
    facts: ['vertex_mm'],
    of: (f) => highest(eachEye(f, 'vertex_mm')),
    words: (v) => `vertex distance ${mm(v)}`,
  },
  vertexOverAssumedMm: {
    facts: ['vertex_mm', 'vertex_assumed_mm'],
    of: (f) => minus(highest(eachEye(f, 'vertex_mm')), vertexAssumedMm(f)),
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
      const assumed = vertexAssumedMm(f);
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
    of: (f) =>
      minus(highest(eachEye(f, 'tilt_deg')), highest(eachEye(f, 'tilt_assumed_deg')) ?? USUAL_TILT_DEG),
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
} satisfies Findings;

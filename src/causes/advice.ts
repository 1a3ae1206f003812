import type { Label } from '../replies/types.ts';

/** Causes that are the normal way of a lens or of the first weeks: advice may go out before a person has looked. */
const ADVISED = [
  'windscreen-uv',
  'hot-weather-limit',
  'low-uv-light',
  'normal-fade-time',
  'cold-slow-clear',
  'stray-uv-indoors',
  'residual-base-tint',
  'early-adaptation',
  'viewing-habit',
  'lower-zone-on-steps',
  'switching-pairs',
  'expectation-gap',
  'needs-task-pair',
  'dirty-or-smeared',
] as const;
export type AdvisedCause = (typeof ADVISED)[number];

/** Nobody who says one of these is told to give it time: danger, one eye worse, double, or a head held oddly. */
const NOT_FOR_ADVICE: ReadonlySet<Label> = new Set<Label>([
  'urgent-eye',
  'fall-or-injury',
  'one-eye-off',
  'doubling',
  'near-too-low',
  'near-too-high',
  'pressure',
  'stop',
  'wants-money-back',
]);

/** The cause whose advice may be sent in answer to these labels; null where a person must look first. */
export const adviceFor = (leadingCause: string | null, labels: readonly Label[]): AdvisedCause | null => {
  if (labels.some((label) => NOT_FOR_ADVICE.has(label))) return null;
  return ADVISED.find((id) => id === leadingCause) ?? null;
};

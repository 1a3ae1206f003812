import { actsOf } from './act.ts';
import { causeById } from './catalogue/index.ts';
import { FACT_KEYS, type FactValue, type JobFactKey, type JobFacts } from './jobFacts.ts';

type NoteLine = { readonly what: string; readonly value: string };

export type PrescriberNote = {
  readonly prescription: readonly NoteLine[];
  readonly previousPair: readonly NoteLine[];
  readonly ordered: readonly NoteLine[];
  readonly ourReadings: readonly NoteLine[];
  readonly placeOnFace: readonly NoteLine[];
  readonly answers: readonly NoteLine[];
  /** The wearer's own words, whole. */
  readonly complaint: readonly string[];
  readonly triedSoFar: readonly string[];
  readonly question: string;
  readonly caution: string | undefined;
  readonly sentBy: 'a person of the shop';
};

/**
 * What a prescriber needs on one page: prescription, order, our readings, place on the face, the complaint in the
 * wearer's words, what was tried, and one question. It suggests no power and sends nothing: a person does.
 */
export const notePrescriber = (input: {
  readonly leadingCause: string;
  readonly facts: JobFacts;
  readonly complaint: readonly string[];
  readonly triedSoFar: readonly string[];
}): PrescriberNote => {
  const { leadingCause, facts, complaint, triedSoFar } = input;
  const lines = (keys: readonly JobFactKey[]) => keys.flatMap((key) => line(key, facts[key]));
  return {
    prescription: lines(['rx_R', 'rx_L', 'add_D']),
    previousPair: lines(['prev_R', 'prev_L', 'prev_add_D', 'previous_lens']),
    ordered: lines(['order_R', 'order_L', 'order_add_D']),
    ourReadings: lines([
      'read_R',
      'read_L',
      'read_add_D',
      'bench_within_limits',
      'read_within_limits',
      'prism_h_imbalance_pd',
      'prism_v_imbalance_pd',
    ]),
    placeOnFace: lines([
      'cross_above_pupil_mm',
      'cross_nasal_mm',
      'vertex_mm',
      'tilt_deg',
      'wrap_deg',
      'fitting_height_mm',
    ]),
    answers: lines([
      'print_must_come',
      'reading_cm_wanted',
      'screen_cm',
      'better_when_frame_tilted',
      'pinhole_helps',
      'old_pair_also',
      'varies_by_day',
      'onset',
      'day',
    ]),
    complaint,
    triedSoFar,
    question: QUESTIONS[leadingCause] ?? generalQuestion(leadingCause, facts),
    caution: causeById(leadingCause)?.caution,
    sentBy: 'a person of the shop',
  };
};

const QUESTIONS: Readonly<Record<string, string>> = {
  'distance-overplus': 'Would a little less plus, or more minus, at far help this wearer?',
  'distance-overminus': 'Would a little more plus, or less minus, ease the strain?',
  'add-too-strong': 'Does the addition suit the distances that this wearer reads and works at?',
  'add-too-weak': 'Does this wearer need more addition at the distance that they read at?',
  'cyl-or-axis-off': 'Please look at cylinder and axis again, at near as well as far.',
  'cyl-change-not-adapted': 'Can the cylinder go part of the way back toward the previous pair?',
  'rx-change-large': 'Can the change be made in smaller steps?',
  'reading-level-imbalance': 'The eyes differ when looking down: slab-off, or separate readers?',
  'image-size-difference': 'Is a difference of image size the trouble, and can the powers be brought nearer?',
  'binocular-weakness':
    'Please look at how the two eyes work together; the pair itself makes no prism error.',
  'eye-health-change':
    'The pair reads right and sits right, and sight is still down. Please look at the eyes, soon.',
};

const generalQuestion = (leadingCause: string, facts: JobFacts): string => {
  const cause = causeById(leadingCause);
  return cause && actsOf(cause, facts).includes('prescriber')
    ? 'Please look at the prescription again with this in mind.'
    : 'We have found nothing wrong with the pair. Please look at eyes and prescription again.';
};

const line = (key: JobFactKey, value: FactValue | undefined): readonly NoteLine[] =>
  value === undefined ? [] : [{ what: FACT_KEYS[key].words, value: written(value) }];

const written = (value: FactValue): string => {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value !== 'object') return String(value);
  if (Array.isArray(value)) {
    const [sphere, cylinder, axis] = value as unknown as readonly [number, number, number];
    return cylinder === 0 ? signed(sphere) : `${signed(sphere)} ${signed(cylinder)} x ${axis}`;
  }
  return Object.entries(value)
    .map(([eye, number]) => `${eye} ${number}`)
    .join(', ');
};

const signed = (number: number): string => `${number > 0 ? '+' : ''}${number.toFixed(2)}`;

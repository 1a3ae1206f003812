import type { Label } from '../../replies/types.ts';
import type { FactValue, JobFactKey } from '../jobFacts.ts';

type QuestionAnswer = {
  readonly key: 'a' | 'b' | 'c';
  readonly words: string;
  /** What the answer says of the job; an answer that says nothing leaves the facts as they were. */
  readonly facts: Readonly<Partial<Record<JobFactKey, FactValue>>>;
};

export type CatalogueQuestion = {
  readonly id: string;
  readonly text: string;
  readonly answers: readonly QuestionAnswer[];
  /** Labels after which it is worth asking. */
  readonly after: readonly Label[];
  /** What asking costs the wearer, in bits of what it must bring. Common practice, no source. */
  readonly bother: number;
};

const ONE_WORD = 0.03;
const A_TRY = 0.05;
const yesNo = (fact: JobFactKey, yes: string, no: string): readonly QuestionAnswer[] => [
  { key: 'a', words: yes, facts: { [fact]: true } },
  { key: 'b', words: no, facts: { [fact]: false } },
];

/**
 * The questions that can be put to a wearer by message or by phone. The trade asks where, when and which eye before any
 * number (lens maker's training table; opticianry exam guide, section 8.2); the wording is ours.
 */
export const QUESTIONS: readonly CatalogueQuestion[] = [
  {
    id: 'only-when-moving',
    text: 'Is it only when you move your head, or also when you sit still?',
    answers: yesNo('only_when_moving', 'only when I move', 'also when I sit still'),
    after: ['swim', 'depth-misjudged'],
    bother: ONE_WORD,
  },
  {
    id: 'chin-down',
    text: 'If you drop your chin a little, does far get clear?',
    answers: yesNo('chin_down_helps', 'yes, clearer', 'no, the same'),
    after: ['distance-blur', 'near-too-high'],
    bother: A_TRY,
  },
  {
    id: 'blurred-where',
    text: 'Where is it blurred?',
    answers: [
      { key: 'a', words: 'far away', facts: { zone: 'far' } },
      { key: 'b', words: "at arm's length", facts: { zone: "arm's length" } },
      { key: 'c', words: 'close up', facts: { zone: 'near' } },
    ],
    after: ['unclear-blur'],
    bother: 0.01,
  },
  {
    id: 'chin-for-screen',
    text: 'Do you have to lift your chin or turn your head to see the screen?',
    answers: [
      { key: 'a', words: 'lift my chin', facts: { chin_up_needed: true } },
      { key: 'b', words: 'turn my head', facts: { head_turn: true, chin_up_needed: false } },
      { key: 'c', words: 'neither', facts: { head_turn: false, chin_up_needed: false } },
    ],
    after: ['intermediate-blur'],
    bother: A_TRY,
  },
  {
    id: 'screen-hours',
    text: 'How long do you look at a screen each day?',
    answers: [
      { key: 'a', words: 'under 2 hours', facts: { screen_hours: 1 } },
      { key: 'b', words: '2 to 5 hours', facts: { screen_hours: 4 } },
      { key: 'c', words: 'more', facts: { screen_hours: 7 } },
    ],
    after: ['intermediate-blur', 'strain'],
    bother: ONE_WORD,
  },
  {
    id: 'print-nearer-or-farther',
    text: 'Does print get clear if you bring it nearer, or move it away?',
    answers: [
      { key: 'a', words: 'nearer', facts: { print_must_come: 'nearer' } },
      { key: 'b', words: 'farther away', facts: { print_must_come: 'farther' } },
      { key: 'c', words: 'neither', facts: { print_must_come: 'neither' } },
    ],
    after: ['near-blur', 'intermediate-blur', 'strain'],
    bother: A_TRY,
  },
  {
    id: 'push-up',
    text: 'If you push the glasses up your nose, does it come right?',
    answers: yesNo('push_up_helps', 'yes', 'no'),
    after: ['near-too-low', 'near-blur', 'intermediate-blur', 'slipping'],
    bother: A_TRY,
  },
  {
    id: 'standing-or-sitting',
    text: 'Is it when you stand, when you sit, or both?',
    answers: [
      { key: 'a', words: 'standing', facts: { blur_when: 'standing' } },
      { key: 'b', words: 'sitting', facts: { blur_when: 'sitting' } },
      { key: 'c', words: 'both', facts: { blur_when: 'both' } },
    ],
    after: ['near-too-high'],
    bother: ONE_WORD,
  },
  {
    id: 'both-sides',
    text: 'Is it blurred on both sides alike, or more on one side?',
    answers: yesNo('uneven_sides', 'more on one side', 'both alike'),
    after: ['narrow-field'],
    bother: ONE_WORD,
  },
  {
    id: 'one-eye-where',
    text: 'Cover each eye in turn. Where is the worse eye blurred?',
    answers: [
      { key: 'a', words: 'far away', facts: { zone: 'distance' } },
      { key: 'b', words: 'close up only', facts: { zone: 'near', distance_clear: true } },
      { key: 'c', words: 'everywhere', facts: { zone: 'everywhere' } },
    ],
    after: ['one-eye-off'],
    bother: A_TRY,
  },
  {
    id: 'cover-one-eye',
    text: 'Does it go when you cover one eye?',
    answers: [
      { key: 'a', words: 'it goes', facts: { cover_one_eye_cures: true, one_eye_only_persists: false } },
      { key: 'b', words: 'it stays', facts: { cover_one_eye_cures: false, one_eye_only_persists: true } },
    ],
    after: ['doubling', 'size-or-shape'],
    bother: A_TRY,
  },
  {
    id: 'looking-down',
    text: 'Is it only when you look down, or also straight ahead?',
    answers: [
      { key: 'a', words: 'only looking down', facts: { when: 'looking down' } },
      { key: 'b', words: 'also straight ahead', facts: { when: 'straight ahead' } },
    ],
    after: ['doubling', 'depth-misjudged'],
    bother: ONE_WORD,
  },
  {
    id: 'edges-slope',
    text: 'Do straight edges slope, or only bend at the sides?',
    answers: [
      { key: 'a', words: 'they slope', facts: { edges_slope: 'slope' } },
      { key: 'b', words: 'bend at the sides', facts: { edges_slope: 'bend' } },
      { key: 'c', words: 'neither', facts: { edges_slope: 'neither' } },
    ],
    after: ['size-or-shape'],
    bother: ONE_WORD,
  },
  {
    id: 'strain-from',
    text: 'Does it come from reading, from screens, or just from wearing them?',
    answers: [
      { key: 'a', words: 'reading', facts: { when: 'reading' } },
      { key: 'b', words: 'screens', facts: { when: 'at a screen' } },
      { key: 'c', words: 'just wearing them', facts: { when: 'just wearing them' } },
    ],
    after: ['strain'],
    bother: ONE_WORD,
  },
  {
    id: 'old-pair-too',
    text: 'Is it the same with your old pair on?',
    answers: yesNo('old_pair_also', 'the same', 'no, only the new pair'),
    after: ['glare', 'distance-blur', 'near-blur', 'one-eye-off', 'strain', 'doubling', 'unclear-blur'],
    bother: A_TRY,
  },
  {
    id: 'some-days-better',
    text: 'Is it the same every day, or better on some days?',
    answers: yesNo('varies_by_day', 'better on some days', 'the same every day'),
    after: ['distance-blur', 'near-blur', 'one-eye-off', 'unclear-blur'],
    bother: ONE_WORD,
  },
  {
    id: 'frame-tilted',
    text: 'If you tip the lower rims toward your cheeks, does far get clearer?',
    answers: yesNo('better_when_frame_tilted', 'yes, clearer', 'no, the same'),
    after: ['distance-blur'],
    bother: 0.08,
  },
  {
    id: 'goes-with-cleaning',
    text: 'Does it go when you wash and dry the lenses?',
    answers: yesNo('clears_after_cleaning', 'it goes', 'it stays'),
    after: ['glare', 'surface-flaw', 'unclear-blur'],
    bother: A_TRY,
  },
  {
    id: 'only-at-edges',
    text: 'Only toward the edges, or in the middle too?',
    answers: yesNo('only_at_edges', 'only at the edges', 'in the middle too'),
    after: ['colour-fringes'],
    bother: ONE_WORD,
  },
  {
    id: 'dark-outside',
    text: 'Do they go dark when you step out into the open?',
    answers: yesNo('darkens_outside', 'yes', 'no'),
    after: ['clear-in-car', 'weak-outdoors', 'slow-to-darken'],
    bother: ONE_WORD,
  },
  {
    id: 'warm-and-sunny',
    text: 'How was it outside?',
    answers: [
      { key: 'a', words: 'open sun, hot', facts: { in_open_sun: true, was_hot: true } },
      { key: 'b', words: 'open sun, not hot', facts: { in_open_sun: true, was_hot: false } },
      { key: 'c', words: 'shade, cloud or late', facts: { in_open_sun: false } },
    ],
    after: ['weak-outdoors'],
    bother: ONE_WORD,
  },
  {
    id: 'how-long-to-darken',
    text: 'How long do they take to go dark?',
    answers: [
      { key: 'a', words: 'seconds', facts: { darkens_within: 'seconds' } },
      { key: 'b', words: 'about a minute', facts: { darkens_within: 'minute' } },
      { key: 'c', words: 'many minutes', facts: { darkens_within: 'many minutes' } },
    ],
    after: ['slow-to-darken'],
    bother: ONE_WORD,
  },
  {
    id: 'out-in-the-cold',
    text: 'Had you been out in the cold?',
    answers: yesNo('came_from_cold', 'yes', 'no'),
    after: ['slow-to-clear'],
    bother: ONE_WORD,
  },
  {
    id: 'away-from-windows',
    text: 'Is it still so after an hour away from windows?',
    answers: [
      { key: 'a', words: 'still so', facts: { by_window: false } },
      { key: 'b', words: 'no, then it goes', facts: { by_window: true } },
    ],
    after: ['tinted-indoors'],
    bother: A_TRY,
  },
  {
    id: 'one-lens-replaced',
    text: 'Was one lens replaced, or were both made together?',
    answers: yesNo('one_lens_replaced', 'one was replaced', 'made together'),
    after: ['mismatched-tint'],
    bother: ONE_WORD,
  },
  {
    id: 'loose-or-snug',
    text: 'Are they loose at the sides, or snug and still sliding?',
    answers: yesNo('snug', 'snug and sliding', 'loose at the sides'),
    after: ['slipping'],
    bother: ONE_WORD,
  },
  {
    id: 'presses-where',
    text: 'Where does it press?',
    answers: [
      { key: 'a', words: 'on the nose', facts: { pressure_at: 'nose' } },
      { key: 'b', words: 'behind the ear', facts: { pressure_at: 'behind the ear' } },
      { key: 'c', words: 'at the side of the head', facts: { pressure_at: 'side of the head' } },
    ],
    after: ['pressure'],
    bother: ONE_WORD,
  },
  {
    id: 'came-so-or-knock',
    text: 'Did they come so, or was it after a knock?',
    answers: [
      { key: 'a', words: 'they came so', facts: { came_so: true, sat_on: false } },
      { key: 'b', words: 'after a knock', facts: { came_so: false, sat_on: true } },
    ],
    after: ['crooked'],
    bother: ONE_WORD,
  },
  {
    id: 'heat-or-cleaner',
    text: 'Did it come so, or after heat or a strong cleaner?',
    answers: [
      { key: 'a', words: 'it came so', facts: { came_so: true, heat_or_solvent: false } },
      { key: 'b', words: 'after heat or cleaner', facts: { came_so: false, heat_or_solvent: true } },
      { key: 'c', words: 'neither', facts: { came_so: false, heat_or_solvent: false } },
    ],
    after: ['surface-flaw'],
    bother: ONE_WORD,
  },
  {
    id: 'all-day',
    text: 'Do you wear them all day, or change back to the old pair?',
    answers: yesNo('whole_time_wear', 'all day', 'I change back'),
    after: ['swim', 'not-wearing', 'narrow-field', 'wants-money-back'],
    bother: ONE_WORD,
  },
  {
    id: 'shown-how',
    text: 'Did someone show you how to find the clear parts of the lenses?',
    answers: yesNo('shown_how', 'yes', 'no'),
    after: ['narrow-field', 'intermediate-blur', 'not-wearing'],
    bother: ONE_WORD,
  },
  {
    id: 'sight-or-other',
    text: 'Is it how you see in them, or something else about them?',
    answers: yesNo('vision_complaint', 'how I see', 'something else'),
    after: ['not-wearing', 'wants-money-back'],
    bother: ONE_WORD,
  },
];

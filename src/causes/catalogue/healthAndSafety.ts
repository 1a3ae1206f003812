import { act, atLeast, is, likelierWhenBenchClean, speaksAgainst, speaksFor, under } from './rules.ts';
import { CO_ANNEX, ELLIOTT, LORD, TECHNICIAN, WEIGHTS } from './sources.ts';
import type { Cause } from './types.ts';

/** The eye itself, and the wearer's safety. Danger is never ranked: it goes to a person at once. */
export const HEALTH_AND_SAFETY: readonly Cause[] = [
  {
    id: 'acute-eye-sign',
    group: 'health-and-safety',
    what: 'A sign that an eye should be looked at today.',
    acts: [act('urgent')],
    bears: 'nobody',
    caution: `To an eye doctor, optometrist or emergency department today; local rules come first (${CO_ANNEX}).`,
    startingWeight: 0.02,
    weightSource: WEIGHTS,
    evidence: [],
  },
  {
    id: 'fall-risk',
    group: 'health-and-safety',
    what: 'A fall, or an older wearer new to multifocals or to a large change who may fall.',
    acts: [act('coach')],
    bears: 'nobody',
    caution:
      'A person makes the call the same day: asks after head, hip and eye, offers a distance pair for walking outdoors, notes who was told.',
    startingWeight: 0.4,
    weightSource: WEIGHTS,
    evidence: [
      speaksFor(is('fell_before', true), 10, { group: 'before', source: LORD }),
      speaksFor(atLeast('age_y', 75), 5, { group: 'eye', source: ELLIOTT }),
      speaksFor(atLeast('age_y', 65, 75), 1.5, { group: 'eye', source: LORD }),
      speaksAgainst(under('age_y', 65), 0.1, { group: 'eye', source: ELLIOTT }),
      speaksFor(atLeast('changeD', 0.76), 2, {
        group: 'prescription',
        source: ELLIOTT,
        also: [atLeast('age_y', 70)],
      }),
      speaksFor(is('newToMultifocals', true), 1.8, {
        group: 'design',
        source: ELLIOTT,
        also: [atLeast('age_y', 70)],
      }),
    ],
  },
  {
    id: 'eye-health-change',
    group: 'health-and-safety',
    what: 'The pair is right and sight is still down: the eye itself may have changed.',
    acts: [act('prescriber')],
    bears: 'nobody',
    caution: 'About one recheck in twelve to sixteen is eye disease. Soon, and if it came suddenly, today.',
    startingWeight: 2.5,
    weightSource: WEIGHTS,
    evidence: [
      speaksAgainst(is('somethingOut', true), 0.6, { group: 'made' }),

      speaksAgainst(is('old_pair_complaint', false), 0.6, { group: 'answers' }),
      speaksFor(is('old_pair_complaint', true), 1.6, { group: 'answers' }),

      speaksFor(is('pinhole_helps', false), 7, { group: 'eye', source: TECHNICIAN }),
      speaksAgainst(is('pinhole_helps', true), 0.2, { group: 'eye' }),
      speaksFor(is('old_pair_also', true), 7, { group: 'answers', source: TECHNICIAN }),
      speaksAgainst(is('old_pair_also', false), 0.3, { group: 'answers' }),
      speaksFor(is('varies_by_day', true), 6, { group: 'time', source: TECHNICIAN }),
      speaksFor(is('diabetes', true), 4, { group: 'before', source: TECHNICIAN }),
      speaksFor(is('eyeConditionKnown', true), 5, { group: 'before' }),
      speaksFor(is('gradually', true), 3, { group: 'answers', source: TECHNICIAN }),
      speaksAgainst(is('withNewGlassesOnly', true), 0.35, { group: 'answers' }),
      speaksFor(is('atNight', true), 1.8, { group: 'light', also: [atLeast('age_y', 60)] }),
      speaksFor(atLeast('age_y', 65), 1.5, { group: 'prescription' }),
      speaksFor(atLeast('day', 31), 1.6, { group: 'time' }),
      likelierWhenBenchClean(2.2),
      speaksAgainst(is('bench_within_limits', false), 0.5, { group: 'bench' }),
      speaksAgainst(is('chin_down_helps', true), 0.25, { group: 'answers' }),
      speaksAgainst(is('clears_after_cleaning', true), 0.1, { group: 'answers' }),
      speaksFor(is('one_eye_only_persists', true), 2, { group: 'image' }),
    ],
  },
];

/** What no catalogue holds. It keeps a floor under its share, so that the list never claims to be whole. */
export const SOMETHING_ELSE: Cause = {
  id: 'something-else',
  group: 'else',
  what: 'None of the causes listed here.',
  acts: [act('re-measure'), act('check-order'), act('prescriber')],
  bears: 'nobody',
  startingWeight: 3,
  weightSource: WEIGHTS,
  evidence: [],
};

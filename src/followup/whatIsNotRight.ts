import type { Question } from '../../templates/types.ts';
import type { Label } from '../replies/types.ts';

/** Asked after a bare "3": something is wrong, and nobody knows yet what. The wearer's own words answer it best. */
export const whatIsNotRight: Question = {
  id: 'what-is-not-right',
  text: 'What is not right? Tell us in your own words, or reply:',
  answers: [
    { key: 'a', words: 'far away is not clear' },
    { key: 'b', words: 'close print is not clear' },
    { key: 'c', words: 'they slide or sit badly' },
  ],
};

export const WHAT_IS_NOT_RIGHT_LABELS: Readonly<Record<string, readonly Label[]>> = {
  a: ['distance-blur'],
  b: ['near-blur'],
  c: ['slipping'],
};

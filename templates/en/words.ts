import type { Words } from '../types.ts';
import { advice, heard, kept } from './answers.ts';
import { emails } from './emails.ts';
import { ENDING_TEXT, texts } from './texts.ts';

export const english: Words = {
  version: 'en-2',
  ending: {
    text: ENDING_TEXT,
    email:
      '1 seeing well · 2 getting there · 3 something is not right · 4 not wearing them · 5 please ring me, or just tell us in your own words.',
  },
  texts,
  emails,
  heard,
  advice,
  kept,
  orShallWeRing: 'or shall we ring you?',
  haveTheyComeAnswers: [
    { key: 'a', words: 'yes' },
    { key: 'b', words: 'not yet' },
  ],
  questions: {},
};

import type { Words } from '../types.ts';
import { advice, heard, kept } from './answers.ts';
import { emails } from './emails.ts';
import { questions } from './questions.ts';
import { ENDING_TEXT, texts } from './texts.ts';

export const spanish: Words = {
  version: 'es-2',
  ending: {
    text: ENDING_TEXT,
    email:
      '1 veo bien · 2 voy mejor · 3 algo no va bien · 4 no los uso · 5 quiero que me llamen, o cuéntenos con sus palabras.',
  },
  texts,
  emails,
  heard,
  advice,
  kept,
  orShallWeRing: '¿o prefiere que le llamemos?',
  haveTheyComeAnswers: [
    { key: 'a', words: 'sí' },
    { key: 'b', words: 'todavía no' },
  ],
  questions,
};

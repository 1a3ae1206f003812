import type { Lexicon } from '../lexicon.ts';
import { askingWords, englishAsks } from './asks.ts';
import { bodyAndTint } from './bodyAndTint.ts';
import { derived } from './derived.ts';
import { englishExtent, maybeStop, weightyWords } from './extent.ts';
import { frameLabels } from './frameLabels.ts';
import { goingLabels } from './goingLabels.ts';
import { denialEnds, denials, lightWords, notDenials, politeWords } from './grammar.ts';
import { ideas } from './ideas.ts';
import { lensLabels, lensWords } from './lensLabels.ts';
import { things } from './things.ts';
import { tintLabels, tintWords } from './tintLabels.ts';
import { urgentLabels, urgentWords } from './urgentLabels.ts';
import { bereavement, wantsLabels, wantsWords } from './wantsLabels.ts';

export const englishLexicon: Lexicon = {
  locale: 'en',
  hasSecondReader: true,
  layers: [
    { ...things, ...ideas, ...bodyAndTint, ...lensWords, ...tintWords, ...wantsWords, ...urgentWords },
    ...derived,
  ],
  labels: [...urgentLabels, ...lensLabels, ...tintLabels, ...frameLabels, ...goingLabels, ...wantsLabels],
  asks: englishAsks,
  askingWords,
  maybeStop,
  bereavement,
  weightyWords,
  extent: englishExtent,
  lightWords,
  politeWords,
  denials,
  denialEnds,
  notDenials,
};

import type { Words } from '../types.ts';

/** Words of follow-up questions by the catalogue's id of the question. */
export const questions: Words['questions'] = {};

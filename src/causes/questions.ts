import { QUESTIONS } from './catalogue/questions.ts';
import type { JobFacts } from './jobFacts.ts';

/** What a tap answer says of the job, as job facts told by the wearer. An unknown question or answer says nothing. */
export const answerFacts = (questionId: string, answerKey: string): JobFacts =>
  QUESTIONS.find(({ id }) => id === questionId)?.answers.find(({ key }) => key === answerKey)?.facts ?? {};

import { questionOf } from '../wearerViews.ts';

/** What the five answers of a check-in mean, in the words of the letters. */
const CHECK_IN: Readonly<Record<string, string>> = {
  '1': 'seeing well',
  '2': 'getting there',
  '3': 'something is not right',
  '4': 'not wearing them',
  '5': 'please ring me',
};

/** What a bare "3" or "b" answered, in words; null where nothing was tapped or the question is not known any more. */
export function tappedWords(bare: unknown): string | null {
  if (typeof bare !== 'object' || bare === null || !('questionId' in bare) || !('answer' in bare))
    return null;
  const { questionId, answer } = bare as { questionId: string; answer: string };
  if (questionId === 'check-in') return CHECK_IN[answer] ?? null;
  const question = questionOf({ kind: 'choices', id: questionId, answers: [] }, 'en');
  return question?.answers.find((one) => one.key === answer)?.words ?? null;
}

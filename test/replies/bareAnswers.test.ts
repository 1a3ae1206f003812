import { describe, expect, test } from 'vitest';
import { sortReply } from '../../src/replies/sortReply.ts';
import type { AskedQuestion } from '../../src/replies/types.ts';

const checkIn: AskedQuestion = { kind: 'check-in' };
const yesNo: AskedQuestion = { kind: 'yes-no', id: 'chin' };
const choices: AskedQuestion = {
  kind: 'choices',
  id: 'where',
  answers: [
    { key: 'a', words: 'Far away' },
    { key: 'b', words: 'At arm’s length' },
    { key: 'c', words: 'Close up' },
  ],
};
const answer = (text: string, asked: AskedQuestion | undefined) =>
  sortReply({ text, asked }).bareAnswer?.answer;

describe('an answer of one digit or letter', () => {
  test.each([
    ['3', '3'],
    ['3.', '3'],
    ['number 3', '3'],
    ["it's a 2", '2'],
    ['3 - the floor', '3'],
    ['4, they pinch', '4'],
    ['two', '2'],
    ['Five please', '5'],
    ['1️⃣', '1'],
    ['#4', '4'],
    ['option 5 thanks', '5'],
    ['tres', '3'],
  ])('"%s" answers a check-in with %s', (text, key) => {
    expect(answer(text, checkIn)).toBe(key);
  });

  test.each([
    '2 weeks in and fine',
    '6',
    '12',
    'the 4 of us are well',
    'none',
    '10 out of 10',
    'I have 3 questions',
  ])('"%s" is no bare answer', (text) => {
    expect(answer(text, checkIn)).toBeUndefined();
  });

  test('letters and the words themselves answer a question with choices', () => {
    expect(answer('b', choices)).toBe('b');
    expect(answer('A)', choices)).toBe('a');
    expect(answer('option c please', choices)).toBe('c');
    expect(answer('close up', choices)).toBe('c');
    expect(answer('a bit blurry', choices)).toBeUndefined();
    expect(sortReply({ text: 'b', asked: choices }).bareAnswer?.questionId).toBe('where');
  });

  test('yes and no are read in the dialects', () => {
    expect(answer('aye', yesNo)).toBe('yes');
    expect(answer('Nope', yesNo)).toBe('no');
    expect(answer('👍', yesNo)).toBe('yes');
    expect(answer('yes, but only the telly', yesNo)).toBe('yes');
    expect(answer('sí', yesNo)).toBe('yes');
    expect(answer('maybe', yesNo)).toBeUndefined();
  });

  test('without a question no answer is made of it', () => {
    expect(answer('3', undefined)).toBeUndefined();
  });
});

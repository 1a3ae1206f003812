import { describe, expect, test } from 'vitest';
import { daysLeftWords } from '../../dashboard/pieces/deadlines.tsx';
import type { Mark } from '../../dashboard/pieces/view.ts';
import { cut } from '../../dashboard/pieces/words.tsx';

const mark = (start: number, end: number): Mark => ({ start, end, means: 'x', kind: 'label' });
const pieces = (text: string, ...marks: Mark[]) =>
  cut({ text, lang: 'en', marks }).map((piece) => (piece.mark ? `[${piece.text}]` : piece.text));

describe('own words cut at their marks', () => {
  test('no word is lost or doubled, whatever the order of the marks', () => {
    expect(pieces('floor moves and slips', mark(16, 21), mark(0, 11))).toEqual([
      '[floor moves]',
      ' and ',
      '[slips]',
    ]);
  });

  test('a mark over an earlier one, beyond the end, or empty is left out', () => {
    expect(pieces('abcdef', mark(0, 4), mark(2, 6))).toEqual(['[abcd]', 'ef']);
    expect(pieces('abc', mark(1, 9), mark(2, 2))).toEqual(['abc']);
  });

  test('marks are counted in UTF-16 units, as the sorter counts', () => {
    expect(pieces('👓 slips', mark(3, 8))).toEqual(['👓 ', '[slips]']);
  });
});

test('days left are told in words, on the day and past it', () => {
  expect([2, 1, 0, -1, -3].map(daysLeftWords)).toEqual([
    '2 days left',
    '1 day left',
    'last day today',
    '1 day past',
    '3 days past',
  ]);
});

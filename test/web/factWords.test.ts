import { expect, test } from 'vitest';
import { daysLeftWords } from '../../dashboard/pieces/deadlines.tsx';
import { factWords, valueWords } from '../../src/web/pages/factWords.ts';

test('what lies above or below, nasal or temporal is told in words, right before left', () => {
  expect(factWords('cross_above_pupil_mm', { L: -2.8, R: -3 })).toEqual({
    name: 'fitting cross',
    value: 'R 3 mm below the pupil, L 2.8 mm below the pupil',
  });
  expect(factWords('cross_above_pupil_mm', 1.5).value).toBe('1.5 mm above the pupil');
  expect(factWords('cross_above_pupil_mm', 0).value).toBe('at the pupil');
  expect(factWords('cross_nasal_mm', -2).value).toBe('2 mm temporal of the pupil');
});

test('millimetres stand with their unit, yes and no are words, a minus is a minus', () => {
  expect(factWords('fitting_height_mm', { R: 18, L: 19.5 }).value).toBe('R 18, L 19.5 mm');
  expect(factWords('slips', false).value).toBe('no');
  expect(valueWords(-2.1)).toBe('−2.1');
  expect(valueWords([1.25, -0.5, 85])).toBe('+1.25 −0.50 × 85');
});

test('days left are told forwards and back: never minus six days left', () => {
  expect([2, 1, 0, -1, -6].map(daysLeftWords)).toEqual([
    '2 days left',
    '1 day left',
    'last day today',
    '1 day past',
    '6 days past',
  ]);
});

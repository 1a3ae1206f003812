import { expect, test } from 'vitest';
import { linkPlace, linksTold } from '../../src/channels/linkPlaces.ts';
import { tappedWords } from '../../src/web/pages/tapped.ts';

test('a bare answer is told in the words that stood beside it; one that no question has is not', () => {
  expect(tappedWords({ questionId: 'check-in', answer: '3' })).toBe('something is not right');
  expect(tappedWords({ questionId: 'check-in', answer: '6' })).toBeNull();
  expect(tappedWords({ questionId: 'have-they-come', answer: 'a' })).toMatch(/yes|come|have/i);
  expect(tappedWords({ questionId: 'no-such-question', answer: 'a' })).toBeNull();
  expect(tappedWords(null)).toBeNull();
});

test('a letter on record says which link stood where, and not the address without its key', () => {
  const base = 'https://shop.example';
  const body = `Tap ${linkPlace(base, 'answer')} or answer:\n1 seeing well\nStop: ${linkPlace(base, 'stop')}`;
  expect(linksTold(body)).toBe(
    'Tap [their link to answer] or answer:\n1 seeing well\nStop: [their link to stop]',
  );
  expect(linksTold('see https://shop.example/w/x')).toBe('see https://shop.example/w/x');
});

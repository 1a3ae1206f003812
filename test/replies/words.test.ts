import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { normalise } from '../../src/replies/normalise.ts';
import { sortReply } from '../../src/replies/sortReply.ts';
import { nearestWord, slipsBetween } from '../../src/replies/spelling.ts';
import { wordForms } from '../../src/replies/wordForms.ts';

const nearWords = readFileSync(new URL('nearWords.txt', import.meta.url), 'utf8')
  .trim()
  .split('\n');

describe('spelling', () => {
  test('300 ordinary words that stand near a word of the lexicon give no label', () => {
    expect(nearWords.length).toBeGreaterThanOrEqual(300);
    expect(nearWords).toContain('sworn');
    expect(nearWords).toContain('flour');
    expect(nearWords.filter((word) => sortReply({ text: word }).labels.length > 0)).toEqual([]);
  });

  test('letters missing, extra, changed or changed round are forgiven in long words', () => {
    expect(nearestWord('distnace')).toBe('distance');
    expect(nearestWord('hedache')).toBe('headache');
    expect(nearestWord('computr')).toBe('computer');
    expect(nearestWord('unsubscrbie')).toBe('unsubscribe');
    expect(nearestWord('blruy')).toBeUndefined();
    expect(nearestWord('swom')).toBeUndefined();
  });

  test('letters changed round count as one slip', () => {
    expect(slipsBetween('form', 'from', 2)).toBe(1);
    expect(slipsBetween('screen', 'screen', 2)).toBe(0);
    expect(slipsBetween('kitten', 'sitting', 3)).toBe(3);
    expect(slipsBetween('short', 'a much longer word', 2)).toBe(3);
  });

  test('a misspelt complaint is read like the well spelt one', () => {
    expect(sortReply({ text: 'the telivision is blury' }).labels).toEqual(['distance-blur']);
    expect(sortReply({ text: 'I want a refnd' }).labels).toEqual(['wants-money-back']);
    expect(sortReply({ text: 'soooo dizzzy when I walk' }).labels).toEqual(['swim']);
  });
});

describe('words of a reply', () => {
  test('accents, case, curly quotes and full-width letters are evened out, and offsets stay those of the text', () => {
    const text = 'Café ＴＶ can’t';
    const tokens = normalise(text);
    expect(tokens.map((token) => token.word)).toEqual(['cafe', 'tv', 'can', 'not']);
    expect(text.slice(tokens[1]!.start, tokens[1]!.end)).toBe('ＴＶ');
    expect(text.slice(tokens[3]!.start, tokens[3]!.end)).toBe('can’t');
  });

  test('an emoji before a word moves its offset by two units', () => {
    const text = '😀 blurry';
    const [token] = normalise(text);
    expect(text.slice(token!.start, token!.end)).toBe('blurry');
    expect(token!.start).toBe(3);
  });

  test('spoken marks end sentences', () => {
    const tokens = normalise('it is fine full stop can you ring question mark yes');
    expect(tokens.map((token) => token.sentence)).toEqual([0, 0, 0, 1, 1, 1, 2]);
    expect(tokens[3]!.asked).toBe(true);
    expect(tokens[0]!.asked).toBe(false);
  });

  test('forms of a word lead to the plain word', () => {
    expect(wordForms('sliding')).toContain('slide');
    expect(wordForms('kerbs')).toContain('kerb');
    expect(wordForms('pinched')).toContain('pinch');
    expect(wordForms('slipping')).toContain('slip');
  });
});

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { foldName, foldText } from '../../templates/foldText.ts';
import { countWords, fleschKincaidGrade, readingEase } from '../../templates/readingGrade.ts';
import { textParts } from '../../templates/textParts.ts';
import { wordFaults } from '../../templates/wordsAllowed.ts';

// Sizes: 3GPP TS 23.038 section 6.2.1; 160/153 and 70/67 as carriers publish them.
test('two halves of a surrogate pair stay in one part', () => {
  expect(textParts(`${'–'.repeat(66)}👍${'–'.repeat(66)}`)).toMatchObject({ units: 134, segments: 3 });
  expect(textParts(`${'–'.repeat(65)}👍${'–'.repeat(67)}`)).toMatchObject({ units: 134, segments: 2 });
});

test('the Greek capital delta is inside the alphabet, the increment sign is not', () => {
  expect(textParts('Δ').encoding).toBe('GSM-7');
  expect(textParts('∆').outside).toEqual(['∆ U+2206']);
});

test('Ç and É are inside, ç and È are not', () => {
  expect(textParts('ÇÉ').encoding).toBe('GSM-7');
  expect(textParts('çÈ').outside).toEqual(['ç U+00E7', 'È U+00C8']);
});

test('an empty text is one empty part', () => {
  expect(textParts('')).toEqual({ encoding: 'GSM-7', units: 0, segments: 1, outside: [] });
});

test('parts never hold more than they can, and a longer text never has fewer', () => {
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom('a', '€', 'é', ' ', '\n') }), (text) => {
      const { segments, units } = textParts(text);
      expect(units).toBeLessThanOrEqual(segments === 1 ? 160 : segments * 153);
      expect(textParts(`${text}a`).segments).toBeGreaterThanOrEqual(segments);
    }),
    { seed: 7 },
  );
});

test('folding takes the silent characters out and leaves the accents in', () => {
  expect(foldText('it’s “soft” – 3½ hours…\u00a0María')).toBe('it\'s "soft" - 31/2 hours... María');
  expect(textParts(foldText('‘a’ “b” — … • − ′ \u00a0™')).outside).toEqual([]);
});

test('folding twice is folding once', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (text) => {
      expect(foldText(foldText(text))).toBe(foldText(text));
    }),
    { seed: 7 },
  );
});

test('a name is one line of at most 30 letters', () => {
  expect(foldName(' Sam\n Reply  STOP ')).toBe('Sam Reply STOP');
  expect(foldName('x'.repeat(80))).toHaveLength(30);
});

// Published example: 13 words, 24 syllables, grade 11.3 (encyclopaedia article on the Flesch-Kincaid tests).
test('the counter finds the published counts of the published sentence', () => {
  const counts = countWords(
    'The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.',
    'en',
  );
  expect(counts).toEqual({ words: 13, sentences: 1, syllables: 24 });
  expect(fleschKincaidGrade(counts)).toBeCloseTo(11.26, 2);
  expect(readingEase(counts)).toBeCloseTo(37.5, 1);
});

test.each([
  ['glasses', 2],
  ['moved', 1],
  ['wanted', 2],
  ['little', 2],
  ['here', 1],
  ['optometrist', 4],
  ['emergency', 4],
  ['windscreen', 2],
  ['kerbs', 1],
  ['lenses', 2],
])('%s has %i syllables', (word, syllables) => {
  expect(countWords(word, 'en').syllables).toBe(syllables);
});

test.each([
  ['lentes', 2],
  ['cuéntenos', 3],
  ['oscurecerse', 5],
  ['día', 2],
  ['quiero', 2],
  ['ahí', 2],
])('%s has %i syllables in Spanish', (word, syllables) => {
  expect(countWords(word, 'es').syllables).toBe(syllables);
});

test.each([
  ['R +2.25 -0.75 x 90 add 2.00', 'prescription'],
  ['your prism is 1.5', 'prescription'],
  ['fitted at 21 mm', 'measurement'],
  ['your PD is 63', 'measurement'],
  ['with your glaucoma', 'health'],
  ['your diabetic check', 'health'],
  ['your new varifocals', 'lens type'],
  ['sus lentes progresivos', 'lens type'],
  ['15% off this week', 'offer'],
  ['leave us a review', 'offer'],
  ['refer a friend', 'offer'],
])('"%s" may not go by text: %s', (words, kind) => {
  expect(wordFaults(`Fernside Optics: ${words}.`).map((fault) => fault.kind)).toContain(kind);
});

test.each([
  'Fernside Optics: we can see you on Friday at 10. Reply to change it.',
  'Hi Sam, this is Fernside Optics. Ring us on +1 212 555 0100, or feel free to write.',
  'Hi Sam, Fernside Optics here. Are they still too tight behind the ear?',
])('"%s" may go by text', (text) => {
  expect(wordFaults(text)).toEqual([]);
});

test('a text that does not say who writes is at fault, and so is one that names somebody else', () => {
  expect(wordFaults('Hi Sam, how are your new glasses?').map((fault) => fault.kind)).toEqual([
    'sender not named',
  ]);
  expect(
    wordFaults('Other Shop: how are they?', { channel: 'text', sender: 'Fernside Optics' }),
  ).toHaveLength(1);
});

import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { englishLexicon } from '../../src/replies/lexicon/en/lexicon.ts';
import { spanishLexicon } from '../../src/replies/lexicon/es/lexicon.ts';
import { normalise } from '../../src/replies/normalise.ts';
import { MOST_ELEMENTS, MOST_GAPS, readPattern, Vocabulary } from '../../src/replies/pattern.ts';
import { makeSorter } from '../../src/replies/sorter.ts';
import { sortReply } from '../../src/replies/sortReply.ts';
import { LABELS } from '../../src/replies/types.ts';

const room = new URL('../../src/replies/', import.meta.url).pathname;

/** Regular expressions written between slashes, after a sign that cannot end a value. */
function regexesOf(source: string): string[] {
  const code = source.replaceAll(/`[^`]*`/gu, '``').replaceAll(/\/\*[\s\S]*?\*\//gu, '');
  return [...code.matchAll(/[(=,:?&|!]\s*\/((?:[^/\\\n[]|\\.|\[(?:[^\]\\\n]|\\.)*\])+)\/[gimsuvy]*/gu)].map(
    (found) => found[1]!,
  );
}

/** A repeated group that repeats inside, or alternatives that may begin alike under a repeat. */
function mayRunAway(regex: string): boolean {
  const plain = regex.replaceAll(/\\./gu, 'x').replaceAll(/\[[^\]]*\]/gu, 'x');
  return /\([^()]*[*+}][^()]*\)[*+{]/u.test(plain) || /\([^()]*\|[^()]*\)[*+{]/u.test(plain);
}

describe('no pattern runs away', () => {
  const files = readdirSync(room, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.ts'),
  );
  const regexes = files.flatMap((name) => regexesOf(readFileSync(room + name, 'utf8')));

  test('no regular expression of the room nests its repeats', () => {
    expect(regexes.length).toBeGreaterThan(5);
    expect(regexes.filter(mayRunAway)).toEqual([]);
  });

  test('the check itself knows a runaway pattern', () => {
    expect(mayRunAway('(a+)+')).toBe(true);
    expect(mayRunAway('(a|aa)*')).toBe(true);
    expect(mayRunAway('[a-z]+')).toBe(false);
  });

  test.each([englishLexicon, spanishLexicon])(
    'every phrase of the lexicon is well formed and bounded: $locale',
    (lexicon) => {
      const vocabulary = new Vocabulary();
      const classes = new Set(lexicon.layers.flatMap((layer) => Object.keys(layer)));
      const phrases = [
        ...lexicon.layers.flatMap((layer) => Object.values(layer).flat()),
        ...lexicon.labels.flatMap((one) => [
          ...one.say,
          ...(one.sayAsking ?? []),
          ...(one.not ?? []),
          ...(one.notWith ?? []),
        ]),
        ...lexicon.asks.flatMap((one) => one.say),
      ];
      expect(phrases.length).toBeGreaterThan(1000);
      for (const phrase of phrases) {
        for (const pattern of readPattern(phrase, vocabulary)) {
          expect(pattern.elements.length).toBeLessThanOrEqual(MOST_ELEMENTS);
          expect(pattern.elements.filter((one) => one.gap > 0).length).toBeLessThanOrEqual(MOST_GAPS);
        }
        for (const named of phrase.matchAll(/\{([^}]*)\}/gu)) expect(classes, phrase).toContain(named[1]);
      }
      expect(new Set(lexicon.labels.map((one) => one.label)).size).toBe(LABELS.length);
    },
  );

  test('what is found grows with the length of the text and no faster', () => {
    const sort = makeSorter(englishLexicon);
    for (const piece of [
      'the telly is blurry and ',
      'stop ',
      'no no the floor moves when I walk. ',
      'left right eye fell ',
      'a a a a ',
    ]) {
      const once = sort(normalise(piece.repeat(200))).reasons.length;
      const twice = sort(normalise(piece.repeat(400))).reasons.length;
      expect(twice).toBeLessThanOrEqual(2 * once + 60);
    }
  });

  test('a clause without an end is cut', () => {
    const tokens = normalise('word '.repeat(1000));
    expect(new Set(tokens.map((token) => token.clause)).size).toBeGreaterThanOrEqual(25);
  });
});

describe('hostile text', () => {
  /** A plain generator of pseudo-random numbers, the same on every run (Park and Miller, 1988; from memory). */
  function randomFrom(seed: number): () => number {
    let state = seed;
    return () => {
      state = (state * 48_271) % 2_147_483_647;
      return state / 2_147_483_647;
    };
  }

  const scraps = [
    'blur',
    'not',
    'stop',
    'eye',
    '😀',
    '👨‍👩‍👧‍👦',
    '\u0000',
    '\u0007',
    '\u202e',
    '\u200f',
    'שלום',
    'مرحبا',
    '\ud800',
    '\udfff',
    'ñ',
    '¿',
    '…',
    "'",
    '’',
    '.',
    ',',
    '?',
    '!',
    '\n',
    '\t',
    ' ',
    '$',
    '{}',
    '..',
    '&',
    '\\n',
    '0',
    '9',
    'ﬁ',
    'Ⅷ',
    'é',
    '٣',
    '中',
    '̈',
    'a'.repeat(30),
    '-',
    '=',
    '^',
    '|',
  ];

  test('100,000 random strings are read without a throw, and noise is never settled', () => {
    const random = randomFrom(7);
    for (let i = 0; i < 100_000; i += 1) {
      let text = '';
      const length = Math.floor(random() * 9);
      for (let j = 0; j < length; j += 1) text += scraps[Math.floor(random() * scraps.length)] ?? '';
      const reading = sortReply({ text });
      if (reading.labels.includes('settled'))
        throw new Error(`noise read as settled: ${JSON.stringify(text)}`);
      for (const span of reading.spans)
        if (span.start < 0 || span.end > text.length || span.end <= span.start)
          throw new Error(JSON.stringify(text));
    }
    expect(random()).toBeGreaterThan(0);
  }, 240_000);

  test.each([
    ['a million letters', 'a'.repeat(1_000_000)],
    ['a million emoji units', '😀'.repeat(500_000)],
    ['right-to-left marks', '\u202e'.repeat(300_000)],
    ['control characters', '\u0000\u0001\u0007'.repeat(100_000)],
    ['quotes and stops', "'.".repeat(300_000)],
    ['combining accents', `e${'\u0301'.repeat(500_000)}`],
    ['spaces', ' '.repeat(1_000_000)],
  ])(
    '%s give no label',
    (_, text) => {
      expect(sortReply({ text }).labels).toEqual([]);
    },
    60_000,
  );

  test('a megabyte of words is read to its last sentence', () => {
    const text = `${'lorem ipsum dolor sit amet '.repeat(38_000)}. I have flashes in my left eye`;
    expect(text.length).toBeGreaterThan(1_000_000);
    expect(sortReply({ text }).urgent).toBe(true);
  }, 240_000);
});

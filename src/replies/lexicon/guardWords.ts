/** Ordinary words that stand near a word of the lexicon and must never be taken for it. */
export const guardWords: ReadonlySet<string> = new Set(
  `sworn flour`.split(' '),
);

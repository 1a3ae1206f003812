/** Phrases of the lexicon are written one after another, parted by commas or line ends. */
export function phrases(written: string): readonly string[] {
  return written
    .split(/[,\n]/u)
    .map((phrase) => phrase.trim())
    .filter((phrase) => phrase !== '');
}

/** Class name to its phrases. A layer may use the classes of the layers before it. */
export type Classes = Readonly<Record<string, readonly string[]>>;

/**
 * The language in which phrases of the lexicon are written. A phrase is a row of words:
 *
 * - `floor` a word, in any of its forms (floor, floors); an exact form is written as it stands (`gone`);
 * - `'be'` this form of the word only;
 * - `{far}` any word or phrase of a class of things or ideas;
 * - `a|b|{c}` one of these;
 * - `word?` may be missing;
 * - `..` up to six words of the same clause may stand between; `...` up to twelve of the same sentence, short of a "but";
 * - `x & y & !z` all in one clause, in any order, and no `z` there; `x && y && !z` the same for one sentence;
 * - `^` in front: begins a clause; `$` at the end: ends a clause; `=` in front: is the whole reply. In a phrase that
 *   is a whole clause or reply the words count in no other form: `= stop` is not "stopped".
 *
 * Small words that carry no weight (the, my, really, just …) may stand between any two words of a phrase.
 */
export type Element = {
  readonly ids: ReadonlySet<number>;
  /** How many weighty words may stand before it, and whether they may cross into the next clause. */
  readonly gap: number;
  readonly crosses: boolean;
};

/** What else must, or must not, stand in the same clause or sentence. */
export type Company = {
  readonly within: 'clause' | 'sentence';
  readonly need: readonly ReadonlySet<number>[];
  readonly without: readonly ReadonlySet<number>[];
};

export type Pattern = {
  readonly source: string;
  readonly elements: readonly Element[];
  readonly opensClause: boolean;
  readonly closesClause: boolean;
  readonly wholeReply: boolean;
  readonly company?: Company;
};

/** Numbers for words and classes. A word that no phrase uses has none. */
export class Vocabulary {
  readonly ids = new Map<string, number>();

  idOf(name: string): number {
    const known = this.ids.get(name);
    if (known !== undefined) return known;
    const id = this.ids.size;
    this.ids.set(name, id);
    return id;
  }
}

const SHORT_GAP = 6;
const LONG_GAP = 12;
export const MOST_GAPS = 3;
export const MOST_ELEMENTS = 14;

/** Reads one phrase; a phrase with optional words becomes several. Throws on a phrase that is not well formed. */
export function readPattern(source: string, vocabulary: Vocabulary): Pattern[] {
  const within = source.includes('&&') ? 'sentence' : 'clause';
  const parts = source.split(/&+/u).map((part) => part.trim());
  const row = parts.findIndex((part) => part.includes(' ') && !part.startsWith('!'));
  const [main = ''] = parts.splice(Math.max(row, 0), 1);
  const company = parts.length === 0 ? undefined : readCompany(source, within, parts, vocabulary);
  return variants(main).map((variant) => {
    const sequence = readSequence(variant, source, vocabulary);
    return company === undefined ? sequence : { ...sequence, company };
  });
}

function readCompany(
  source: string,
  within: 'clause' | 'sentence',
  parts: readonly string[],
  vocabulary: Vocabulary,
): Company {
  const need: ReadonlySet<number>[] = [];
  const without: ReadonlySet<number>[] = [];
  for (const part of parts) {
    if (part === '' || part.includes(' '))
      throw new Error(`Only one row of words may stand between "&": "${source}"`);
    if (part.startsWith('!')) without.push(alternatives(part.slice(1), vocabulary));
    else need.push(alternatives(part, vocabulary));
  }
  return { within, need, without };
}

/** The name in the vocabulary of a word that counts in no other form. */
export function exactly(word: string): string {
  return `'${word}'`;
}

function variants(source: string): string[] {
  const parts = source.trim().split(/\s+/u);
  let rows: string[][] = [[]];
  for (const part of parts) {
    if (part.endsWith('?')) rows = rows.flatMap((row) => [row, [...row, part.slice(0, -1)]]);
    else rows = rows.map((row) => [...row, part]);
  }
  return rows.map((row) => row.join(' '));
}

function readSequence(row: string, source: string, vocabulary: Vocabulary): Pattern {
  const parts = row.split(' ');
  const wholeReply = parts[0] === '=';
  const opensClause = parts[0] === '^';
  if (wholeReply || opensClause) parts.shift();
  const closesClause = parts.at(-1) === '$';
  if (closesClause) parts.pop();
  const exact = wholeReply || (opensClause && closesClause);
  const elements: Element[] = [];
  let gap = 0;
  let crosses = false;
  let gaps = 0;
  for (const part of parts) {
    if (part === '..' || part === '...') {
      gap = part === '..' ? SHORT_GAP : LONG_GAP;
      crosses = part === '...';
      gaps += 1;
      continue;
    }
    elements.push({ ids: alternatives(part, vocabulary, exact), gap, crosses });
    gap = 0;
    crosses = false;
  }
  if (elements.length === 0 || elements[0]?.gap !== 0 || gap !== 0)
    throw new Error(`A phrase of the lexicon begins or ends with a gap, or is empty: "${source}"`);
  if (gaps > MOST_GAPS || elements.length > MOST_ELEMENTS)
    throw new Error(`A phrase of the lexicon has too many gaps or words: "${source}"`);
  return { source, elements, opensClause, closesClause, wholeReply };
}

function alternatives(part: string, vocabulary: Vocabulary, exact = false): ReadonlySet<number> {
  return new Set(
    part.split('|').map((name) => vocabulary.idOf(exact && !name.startsWith('{') ? exactly(name) : name)),
  );
}

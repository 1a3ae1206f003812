import { correctableWords } from './lexicon/correctableWords.ts';
import { guardWords } from './lexicon/guardWords.ts';

const byLength = new Map<number, string[]>();
for (const word of correctableWords) {
  const row = byLength.get(word.length);
  if (row === undefined) byLength.set(word.length, [word]);
  else row.push(word);
}

const SHORTEST = 5;
const LONGEST = 16;
const TWO_SLIPS_FROM = 9;

/**
 * The word of the lexicon that a misspelt one was meant to be, or undefined. One slip (a letter missing, extra,
 * changed, or two changed round) in words of five letters and more, two in words of nine and more; the first letter
 * must stand, or have changed places with the second. Ordinary words are never changed.
 */
export function nearestWord(word: string): string | undefined {
  if (word.length < SHORTEST || word.length > LONGEST || /\d/u.test(word) || guardWords.has(word))
    return undefined;
  let best: string | undefined;
  let fewest = 3;
  for (let length = word.length - 2; length <= word.length + 2; length += 1) {
    for (const candidate of byLength.get(length) ?? []) {
      if (candidate[0] !== word[0] && !(candidate[0] === word[1] && candidate[1] === word[0])) continue;
      const allowed = Math.min(word.length, candidate.length) >= TWO_SLIPS_FROM ? 2 : 1;
      const slips = slipsBetween(word, candidate, allowed);
      if (slips <= allowed && slips < fewest) {
        best = candidate;
        fewest = slips;
      }
    }
  }
  return best;
}

/** Damerau's distance (adjacent letters changed round count once); `most + 1` when it is more than `most`. */
export function slipsBetween(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let cost = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, before[j - 2]! + 1);
      row.push(cost);
      if (cost < least) least = cost;
    }
    if (least > most) return most + 1;
    before = last;
    last = row;
  }
  return last[b.length]!;
}

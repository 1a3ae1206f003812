import type { Board } from '../matcher.ts';
import type { Vocabulary } from '../pattern.ts';
import type { Label } from '../types.ts';
import { type Feature, featuresOf, pairKey } from './features.ts';
import { weights } from './weights.generated.ts';

/** A label that the second reader would give, its chance, and the tokens that speak most for it. */
export type Guess = { readonly label: Label; readonly chance: number; readonly used: readonly number[] };

const STEPS_PER_UNIT = 20;
const MOST_WORDS_SHOWN = 3;
const LEAST_CHANCE = 0.2;
/** Of fewer known features no guess is made: one word alone says too little. */
const LEAST_FEATURES = 3;

/** Weights of one feature: label, weight, label, weight … */
type Row = Float64Array;

/** How features are written in the file of weights: `w word`, `b word word`, `c class`, `p class class`. */
function keyOf(written: string, vocabulary: Vocabulary): string | number | undefined {
  const kind = written[0];
  const name = written.slice(1);
  if (kind === 'w' || kind === 'b') return name;
  const ids = name.split('&').map((one) => vocabulary.ids.get(`{${one}}`));
  if (ids.some((id) => id === undefined)) return undefined;
  return kind === 'c' ? ids[0] : pairKey(ids[0]!, ids[1]!);
}

/**
 * Logistic regression, one label against the rest, over the features of a reply; weights in `weights.generated.ts`,
 * made by `npm run train:replies`. It never gives a danger sign or a stop: those stay with rules that can be read.
 */
export function makeSecondReader(vocabulary: Vocabulary): (board: Board) => Guess[] {
  const byKey = new Map<string | number, Row>();
  for (const line of weights.features) {
    const [written = '', ...parts] = line.split('\t');
    const key = keyOf(written, vocabulary);
    if (key === undefined) continue;
    byKey.set(
      key,
      Float64Array.from(
        parts.flatMap((part) => {
          const [label = 0, weight = 0] = part.split(':').map(Number);
          return [label, weight / STEPS_PER_UNIT];
        }),
      ),
    );
  }
  const isClass = new Set([...vocabulary.ids].filter(([name]) => name.startsWith('{')).map(([, id]) => id));

  return (board) => {
    const sums = Float64Array.from(weights.bias);
    const known: { feature: Feature; row: Row }[] = [];
    for (const feature of featuresOf(board, isClass)) {
      const row = byKey.get(feature.key);
      if (row === undefined) continue;
      known.push({ feature, row });
      for (let i = 0; i < row.length; i += 2) sums[row[i]!]! += row[i + 1]! * feature.amount;
    }
    // One known word alone (a bare number, "ok") says too little to guess from.
    if (new Set(known.map(({ feature }) => feature.at)).size < 2) return [];
    if (known.length < LEAST_FEATURES) return [];
    const out: Guess[] = [];
    sums.forEach((sum, at) => {
      const chance = 1 / (1 + Math.exp(-sum));
      if (chance < LEAST_CHANCE) return;
      const used = wordsFor(at, known);
      if (used.length > 0) out.push({ label: weights.labels[at] as Label, chance, used });
    });
    return out;
  };
}

/** The tokens of the features that speak most for a label; none when only chance neighbours speak for it. */
function wordsFor(label: number, known: readonly { feature: Feature; row: Row }[]): number[] {
  const speaking: { at: number; part: number }[] = [];
  let byItself = false;
  for (const { feature, row } of known)
    for (let i = 0; i < row.length; i += 2)
      if (row[i] === label && row[i + 1]! > 0) {
        speaking.push({ at: feature.at, part: row[i + 1]! * feature.amount });
        byItself ||= typeof feature.key === 'number' || !feature.key.includes(' ');
      }
  if (!byItself) return [];
  speaking.sort((a, b) => b.part - a.part);
  return [...new Set(speaking.slice(0, MOST_WORDS_SHOWN).map((one) => one.at))].sort((a, b) => a - b);
}

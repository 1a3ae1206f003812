import type { Board } from '../matcher.ts';
import type { Vocabulary } from '../pattern.ts';
import { LABELS, type Label } from '../types.ts';
import { type Feature, featuresOf, pairKey, type Stretch, sentencesOf } from './features.ts';
import { weights } from './weights.generated.ts';

/**
 * What the words of a reply say for each label, apart from all rules: logits in the order of `LABELS`; and the tokens
 * that speak most for one of them.
 */
export type Opinion = {
  readonly logits: ArrayLike<number>;
  /** The highest that any one sentence says, read by itself: in a long letter one sentence is soon drowned. */
  readonly ofBestSentence: ArrayLike<number>;
  /** Words that the reader has seen before, as a share of the reply's words. */
  readonly known: number;
  /** Different words in the reply. */
  readonly words: number;
  usedFor(label: Label): readonly number[];
};

export const WEIGHT_STEPS_PER_UNIT = 10;
export const FIRST_CHARACTER = 35;
export const MIDDLE_CHARACTER = 79;
const MOST_WORDS_SHOWN = 3;
const MOST_LOGIT = 9;

/** Weights of one feature: label, weight, label, weight … */
type Row = Float32Array;

/** How classes and pairs of classes are named in the file of weights: `k class`, `p class&class`. */
function keyOf(written: string, vocabulary: Vocabulary): string | number | undefined {
  const kind = written[0];
  if (kind !== 'k' && kind !== 'p') return written;
  const ids = written
    .slice(1)
    .split('&')
    .map((one) => vocabulary.ids.get(`{${one}}`));
  if (ids.some((id) => id === undefined)) return undefined;
  return kind === 'k' ? ids[0] : pairKey(ids[0]!, ids[1]!);
}

/**
 * Logistic regression, one label against the rest, over the features of a reply; weights in `weights.generated.ts`,
 * made by `npm run train:replies`. It only gives an opinion: what stands is weighed in `weigh.ts`.
 */
export function makeSecondReader(
  vocabulary: Vocabulary,
): (board: Board, asking: readonly boolean[]) => Opinion {
  const byWord = new Map<string, Row>();
  const byIdea = new Map<number, Row>();
  for (const line of weights.features.split('\n')) {
    const [written = '', packed = ''] = line.split('\t');
    const key = keyOf(written, vocabulary);
    if (typeof key === 'string') byWord.set(key, unpacked(packed));
    else if (key !== undefined) byIdea.set(key, unpacked(packed));
  }
  const isClass = new Set([...vocabulary.ids].filter(([name]) => name.startsWith('{')).map(([, id]) => id));

  const read = (board: Board, asking: readonly boolean[], stretch?: Stretch) => {
    const sums = Float64Array.from(weights.bias);
    const known: { feature: Feature; row: Row }[] = [];
    for (const feature of featuresOf(board, asking, isClass, stretch)) {
      const row = typeof feature.key === 'string' ? byWord.get(feature.key) : byIdea.get(feature.key);
      if (row === undefined) continue;
      known.push({ feature, row });
      for (let i = 0; i < row.length; i += 2) sums[row[i]!]! += row[i + 1]! * feature.amount;
    }
    for (let i = 0; i < sums.length; i += 1) sums[i] = Math.max(-MOST_LOGIT, Math.min(MOST_LOGIT, sums[i]!));
    return { sums, known };
  };

  return (board, asking) => {
    const { sums, known } = read(board, asking);
    const best = sums.slice();
    for (const stretch of sentencesOf(board)) {
      const sentence = read(board, asking, stretch).sums;
      for (let i = 0; i < best.length; i += 1) best[i] = Math.max(best[i]!, sentence[i]!);
    }
    const knownTokens = new Set<number>();
    for (const { feature } of known)
      if (typeof feature.key === 'string' && feature.key[0] === 'w') knownTokens.add(feature.at);
    const words = new Set(board.tokens.map((token) => token.word));
    return {
      logits: sums,
      ofBestSentence: best,
      known: knownTokens.size / Math.max(words.size, 1),
      words: words.size,
      usedFor: (label) => wordsFor(LABELS.indexOf(label), known),
    };
  };
}

/** Two characters a weight: the label, and the weight in tenths about the middle character. */
function unpacked(packed: string): Row {
  const row = new Float32Array(packed.length);
  for (let i = 0; i < packed.length; i += 2) {
    row[i] = packed.charCodeAt(i) - FIRST_CHARACTER;
    row[i + 1] = (packed.charCodeAt(i + 1) - MIDDLE_CHARACTER) / WEIGHT_STEPS_PER_UNIT;
  }
  return row;
}

/** The tokens of the features that speak most for a label. */
function wordsFor(label: number, known: readonly { feature: Feature; row: Row }[]): number[] {
  const parts = new Map<number, number>();
  for (const { feature, row } of known)
    for (let i = 0; i < row.length; i += 2)
      if (row[i] === label && row[i + 1]! > 0)
        parts.set(feature.at, (parts.get(feature.at) ?? 0) + row[i + 1]! * feature.amount);
  return [...parts]
    .sort((a, b) => b[1] - a[1] || a[0] - b[0])
    .slice(0, MOST_WORDS_SHOWN)
    .map(([at]) => at)
    .sort((a, b) => a - b);
}

import type { Board } from '../matcher.ts';
import type { Vocabulary } from '../pattern.ts';
import { LABELS, type Label } from '../types.ts';
import { FeatureReader, type Features } from './features.ts';
import { weights } from './weights.generated.ts';

/**
 * What the words of a reply say for each label, apart from all rules: logits in the order of `LABELS`; and the tokens
 * that speak most for one of them.
 */
export type Opinion = {
  readonly logits: ArrayLike<number>;
  /** The highest that any one sentence says, read by itself: in a long letter one sentence is soon drowned. */
  readonly ofBestSentence: ArrayLike<number>;
  /** That it says nothing that a label is for: a logit; 0 where the weights do not tell. */
  readonly nothing: number;
  /** Words that the reader has seen before, as a share of the reply's words. */
  readonly known: number;
  /** Different words in the reply. */
  readonly words: number;
  usedFor(label: Label): readonly number[];
};

export const WEIGHT_STEPS_PER_UNIT = 10;
export const FIRST_CHARACTER = 35;
export const MIDDLE_CHARACTER = 79;
/** The place behind all labels, of replies that bear none. */
export const NOTHING = LABELS.length;
const MOST_WORDS_SHOWN = 3;
const MOST_LOGIT = 9;

/**
 * Logistic regression, one label against the rest, over the features of a reply; weights in `weights.generated.ts`,
 * made by `npm run train:replies`. It only gives an opinion: what stands is weighed in `weigh.ts`.
 */
export function makeSecondReader(
  vocabulary: Vocabulary,
): (board: Board, asking: readonly boolean[]) => Opinion {
  const { names, starts, labels, amounts } = unpacked(weights.features);
  const reader = new FeatureReader(vocabulary, names);
  const bias = Float64Array.from(weights.bias);
  const known = names.length;

  const read = ({ count, feature, amount }: Features): Float64Array => {
    const sums = bias.slice();
    for (let i = 0; i < count; i += 1) {
      const one = feature[i]!;
      if (one >= known) continue;
      const much = amount[i]!;
      for (let at = starts[one]!; at < starts[one + 1]!; at += 1) sums[labels[at]!]! += amounts[at]! * much;
    }
    for (let i = 0; i < sums.length; i += 1) sums[i] = Math.max(-MOST_LOGIT, Math.min(MOST_LOGIT, sums[i]!));
    return sums;
  };

  /** The tokens of the features that speak most for a label. */
  const wordsFor = (label: number, { count, feature, amount, at: places }: Features): number[] => {
    const parts = new Map<number, number>();
    for (let i = 0; i < count; i += 1) {
      const one = feature[i]!;
      if (one >= known) continue;
      for (let at = starts[one]!; at < starts[one + 1]!; at += 1)
        if (labels[at] === label && amounts[at]! > 0)
          parts.set(places[i]!, (parts.get(places[i]!) ?? 0) + amounts[at]! * amount[i]!);
    }
    return [...parts]
      .sort((a, b) => b[1] - a[1] || a[0] - b[0])
      .slice(0, MOST_WORDS_SHOWN)
      .map(([at]) => at)
      .sort((a, b) => a - b);
  };

  const isWord = Uint8Array.from(names, (name) => (name.startsWith('w') ? 1 : 0));

  return (board, asking) => {
    const look = reader.look(board, asking);
    const drawn = look.whole();
    const whole = {
      count: drawn.count,
      feature: drawn.feature.slice(0, drawn.count),
      amount: drawn.amount.slice(0, drawn.count),
      at: drawn.at.slice(0, drawn.count),
    };
    const logits = read(whole);
    const best = logits.slice();
    for (const sentence of look.sentences) {
      const sums = read(sentence());
      for (let i = 0; i < best.length; i += 1) if (sums[i]! > best[i]!) best[i] = sums[i]!;
    }
    let knownWords = 0;
    for (let i = 0; i < whole.count; i += 1) knownWords += isWord[whole.feature[i]!] ?? 0;
    const words = new Set(board.tokens.map((token) => token.word)).size;
    return {
      logits,
      ofBestSentence: best,
      nothing: logits[NOTHING]!,
      known: knownWords / Math.max(words, 1),
      words,
      usedFor: (label) => wordsFor(LABELS.indexOf(label), whole),
    };
  };
}

type Rows = {
  readonly names: readonly string[];
  /** Where the weights of each feature begin, and at last where they end. */
  readonly starts: Int32Array;
  readonly labels: Uint8Array;
  readonly amounts: Float32Array;
};

/** Two characters a weight: the label, and the weight in tenths about the middle character. */
function unpacked(features: string): Rows {
  const lines = features.split('\n').map((line) => line.split('\t') as [string, string]);
  const starts = new Int32Array(lines.length + 1);
  const size = lines.reduce((sum, [, packed]) => sum + packed.length / 2, 0);
  const labels = new Uint8Array(size);
  const amounts = new Float32Array(size);
  let at = 0;
  lines.forEach(([, packed], line) => {
    for (let i = 0; i < packed.length; i += 2) {
      labels[at] = packed.charCodeAt(i) - FIRST_CHARACTER;
      amounts[at] = (packed.charCodeAt(i + 1) - MIDDLE_CHARACTER) / WEIGHT_STEPS_PER_UNIT;
      at += 1;
    }
    starts[line + 1] = at;
  });
  return { names: lines.map(([name]) => name), starts, labels, amounts };
}

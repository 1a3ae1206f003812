import type { Board } from '../matcher.ts';
import type { Label } from '../types.ts';
import { type Feature, featuresOf } from './features.ts';
import { weights } from './weights.generated.ts';

/** A label that the second reader would give, its chance, and the tokens that speak most for it. */
export type Guess = { readonly label: Label; readonly chance: number; readonly used: readonly number[] };

const STEPS_PER_UNIT = 20;
const MOST_WORDS_SHOWN = 3;
const LEAST_CHANCE = 0.2;

type Weight = { readonly label: number; readonly weight: number };

const byFeature = new Map<string, readonly Weight[]>();
for (const row of weights.features) {
  const [name, ...parts] = row.split(' ');
  byFeature.set(
    name!,
    parts.map((part) => {
      const colon = part.indexOf(':');
      return { label: Number(part.slice(0, colon)), weight: Number(part.slice(colon + 1)) / STEPS_PER_UNIT };
    }),
  );
}

/**
 * Logistic regression, one label against the rest, over the features of a reply; weights in `weights.generated.ts`,
 * made by `npm run train:replies`. It never gives a danger sign or a stop: those stay with rules that can be read.
 */
export function guesses(board: Board, nameOf: (id: number) => string | undefined): Guess[] {
  const sums = weights.bias.map((bias) => bias);
  const speaking: { feature: Feature; weight: number }[][] = weights.labels.map(() => []);
  for (const feature of featuresOf(board, nameOf)) {
    for (const { label, weight } of byFeature.get(feature.name) ?? []) {
      const part = weight * feature.amount;
      sums[label]! += part;
      if (part > 0) speaking[label]!.push({ feature, weight: part });
    }
  }
  const out: Guess[] = [];
  sums.forEach((sum, at) => {
    const chance = 1 / (1 + Math.exp(-sum));
    if (chance < LEAST_CHANCE) return;
    const best = speaking[at]!.sort((a, b) => b.weight - a.weight).slice(0, MOST_WORDS_SHOWN);
    if (best.length > 0)
      out.push({
        label: weights.labels[at] as Label,
        chance,
        used: [...new Set(best.map((one) => one.feature.at))].sort((a, b) => a - b),
      });
  });
  return out;
}

import { readdirSync, writeFileSync } from 'node:fs';
import { layBoard, makeClassifier } from '../../src/replies/board.ts';
import { englishLexicon } from '../../src/replies/lexicon/en/lexicon.ts';
import { readLocale } from '../../src/replies/locale.ts';
import { featuresOf, pairKey } from '../../src/replies/model/features.ts';
import { normalise } from '../../src/replies/normalise.ts';
import { LABELS } from '../../src/replies/types.ts';
import { readLabelledReplies } from './labelledReplies.ts';

/**
 * Trains the second reader: `npm run train:replies`. Logistic regression, one label against the rest, by plain
 * gradient descent in a fixed order: the same files give the same weights. Rows of files named `held-*` are never
 * used. `--without NAME` leaves one more file out, to try the reader on it.
 */
const here = new URL('.', import.meta.url).pathname;
const target = new URL('../../src/replies/model/weights.generated.ts', import.meta.url).pathname;
const ROUNDS = 40;
const FIRST_STEP = 0.5;
const STEP_DECAY = 0.1;
const SHRINK = 1e-3;
const WEIGHT_OF_A_YES = 5;
const FIRST_BIAS = -2;
const STEPS_PER_UNIT = 20;
const LEAST_WEIGHT = 0.3;
const LEAST_ROWS = 2;
const RULES_ONLY = new Set(['urgent-eye', 'fall-or-injury', 'stop', 'resume']);

const without = process.argv.includes('--without')
  ? process.argv[process.argv.indexOf('--without') + 1]
  : undefined;
const files = readdirSync(here).filter(
  (name) => name.endsWith('.tsv') && !name.startsWith('held-') && name !== `${without}.tsv`,
);
const classifier = makeClassifier(englishLexicon);
const isClass = new Set(
  [...classifier.vocabulary.ids].filter(([name]) => name.startsWith('{')).map(([, id]) => id),
);
const written = writtenNames();
const rows = files
  .sort()
  .flatMap((name) => readLabelledReplies(here + name))
  .filter(({ text }) => readLocale(text).locale === 'en')
  .map(({ text, labels }) => ({
    labels,
    features: featuresOf(layBoard(normalise(text, 'en'), classifier), isClass),
  }));

const seen = new Map<string | number, number>();
for (const row of rows) for (const one of row.features) seen.set(one.key, (seen.get(one.key) ?? 0) + 1);
const number = new Map<string | number, number>();
for (const [name, count] of seen) if (count >= LEAST_ROWS) number.set(name, number.size);
const vectors = rows.map((row) =>
  row.features.flatMap((one) => {
    const id = number.get(one.key);
    return id === undefined ? [] : [[id, one.amount] as const];
  }),
);

const labels = LABELS.filter((label) => !RULES_ONLY.has(label));
const trained = labels.map((label) => {
  const weight = new Float64Array(number.size);
  let bias = FIRST_BIAS;
  const wanted = rows.map((row) => (row.labels.includes(label) ? 1 : 0));
  for (let round = 0; round < ROUNDS; round += 1) {
    const step = FIRST_STEP / (1 + round * STEP_DECAY);
    for (let i = 0; i < vectors.length; i += 1) {
      const vector = vectors[i]!;
      let sum = bias;
      for (const [id, amount] of vector) sum += weight[id]! * amount;
      const error = (1 / (1 + Math.exp(-sum)) - wanted[i]!) * (wanted[i] === 1 ? WEIGHT_OF_A_YES : 1);
      bias -= step * error * 0.2;
      for (const [id, amount] of vector) weight[id]! -= step * (error * amount + SHRINK * weight[id]!);
    }
  }
  return { bias, weight };
});

const lines: string[] = [];
const named = [...number].map(([key, id]) => [written(key), id] as const);
for (const [name, id] of named.sort(([a], [b]) => (a < b ? -1 : 1))) {
  const parts = trained.flatMap(({ weight }, at) =>
    Math.abs(weight[id]!) < LEAST_WEIGHT ? [] : [`${at}:${Math.round(weight[id]! * STEPS_PER_UNIT)}`],
  );
  if (parts.length > 0) lines.push([name, ...parts].join('\t'));
}
writeFileSync(
  target,
  `/** Made by \`npm run train:replies\` from the labelled replies of this repository; not written by hand. */
export const weights: {
  readonly labels: readonly string[];
  readonly bias: readonly number[];
  readonly features: readonly string[];
} = {
  labels: ${JSON.stringify(labels)},
  bias: ${JSON.stringify(trained.map((one) => Number(one.bias.toFixed(3))))},
  features: \`${lines.join('\n').replaceAll('`', '')}\`.split('\\n'),
};
`,
);
console.log(`${rows.length} replies of ${files.join(', ')}; ${lines.length} features`);

/** Features as the file of weights names them: `w word`, `b word word`, `c class`, `p class&class`. */
function writtenNames(): (key: string | number) => string {
  const names = new Map<number, string>();
  const classes = [...classifier.vocabulary.ids]
    .filter(([name]) => name.startsWith('{'))
    .map(([name, id]) => [id, name.slice(1, -1)] as const);
  for (const [id, name] of classes) names.set(id, `c${name}`);
  for (const [a, nameA] of classes)
    for (const [b, nameB] of classes) if (a < b) names.set(pairKey(a, b), `p${nameA}&${nameB}`);
  return (key) => (typeof key === 'number' ? names.get(key)! : `${key.includes(' ') ? 'b' : 'w'}${key}`);
}

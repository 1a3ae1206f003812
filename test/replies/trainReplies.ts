import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { makeClassifier } from '../../src/replies/board.ts';
import { englishLexicon } from '../../src/replies/lexicon/en/lexicon.ts';
import { readLocale } from '../../src/replies/locale.ts';
import { FeatureReader, type Features } from '../../src/replies/model/features.ts';
import {
  FIRST_CHARACTER,
  MIDDLE_CHARACTER,
  NOTHING,
  type Opinion,
  WEIGHT_STEPS_PER_UNIT,
} from '../../src/replies/model/secondReader.ts';
import { groundsOf } from '../../src/replies/model/weigh.ts';
import { normalise } from '../../src/replies/normalise.ts';
import { ruledBy } from '../../src/replies/settle.ts';
import { type Evidence, makeSorter, type Reason } from '../../src/replies/sorter.ts';
import { LABELS, type Label } from '../../src/replies/types.ts';
import { fitLogistic, type Sparse } from './fitLogistic.ts';
import { readLabelledReplies } from './labelledReplies.ts';

/**
 * `npm run train:replies`: trains the second reader in two steps, the same files giving the same weights.
 *
 * 1. Logistic regression, one label against the rest, on the words of every labelled reply.
 * 2. The balance between that reader and the rules: one small logistic regression for all labels, on replies by other
 *    hands only (`hand-*`) and of `own-2` and later, each read by a reader of step 1 that was trained without its file.
 *
 * Rows of files named `held-*` are never used. Prints the macro-F1 of each file by other hands when neither step has
 * seen it; `--dry` prints only.
 */
const here = new URL('.', import.meta.url).pathname;
const model = new URL('../../src/replies/model/', import.meta.url).pathname;
const LEAST_WEIGHT = 0.2;
const LEAST_ROWS = 2;
/** A feature of few rows weighs more than one of many: by ln(rows / rows with it) / USUAL_RARITY, to this power. */
const RARITY = 1;
const USUAL_RARITY = 6;
const SHRINK = 1 / 8;
const WEIGHT_OF_YES = 1.5;
const ROUNDS = 10;
const MOST_STEPS = 43;
/** Replies that the rules were not written from. */
const UNSEEN_BY_RULES = /^(hand-|own-[2-9])/u;
const FOLDS = 3;
const MOST_NOISE = 150;
const SCRAPS = ['eye', 'stop', 'and', '0', '9', 'aaaaaaaa', 'e', 'and and', 'ok', 'a', 'x', 'hello'];
const dry = process.argv.includes('--dry');

type Row = {
  readonly file: string;
  readonly labels: readonly Label[];
  /** The labels of which it is known whether the reply bears them; all when absent. */
  readonly knownFor?: ReadonlySet<Label>;
  readonly features: Sparse;
  readonly sentences: readonly Sparse[];
  readonly evidence: Evidence;
  readonly ruled: readonly Reason[];
};

const classifier = makeClassifier(englishLexicon);
const seer = new FeatureReader(classifier.vocabulary, [], Number.POSITIVE_INFINITY);
const sorter = makeSorter({ ...englishLexicon, hasSecondReader: false });
const folders = [here, ...process.argv.filter((argument) => argument.endsWith('/'))];
const rows: readonly Row[] = [...folders.flatMap(labelledRows), ...safetyRows(), ...noiseRows()];
const unseen = [...new Set(rows.map((row) => row.file))].filter((file) => UNSEEN_BY_RULES.test(file));

const apart = new Map<Row, Pick<Opinion, 'logits' | 'ofBestSentence' | 'nothing'>>();
for (let fold = 0; fold < FOLDS; fold += 1) {
  const out = new Set(unseen.filter((_, at) => at % FOLDS === fold));
  const reader = trainReader(rows.filter((row) => !out.has(row.file)));
  for (const row of rows) if (out.has(row.file)) apart.set(row, reader.read(row));
}
const allApart: Apart[] = [];
for (let fold = 0; fold < FOLDS; fold += 1) {
  const inFold = (_: string, at: number) => at % FOLDS === fold;
  const balance = fitBalance(unseen.filter((file, at) => !inFold(file, at)));
  for (const file of unseen.filter(inFold)) {
    const read = readApart(
      rows.filter((row) => row.file === file),
      balance,
    );
    if (file.startsWith('hand-')) allApart.push(...read);
    console.log(`${file.padEnd(14)} its file seen by neither step: ${measured(read)}`);
  }
}
console.log(`hand-* together, each file seen by neither step: ${measured(allApart)}`);
if (!dry) {
  const reader = trainReader(rows);
  writeFileSync(`${model}weights.generated.ts`, reader.file());
  writeFileSync(`${model}balance.generated.ts`, balanceFile(fitBalance(unseen)));
}
console.log(`${rows.length} replies of ${new Set(rows.map((row) => row.file)).size} files`);

function labelledRows(folder: string): Row[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.tsv') && !name.startsWith('held-'))
    .sort()
    .flatMap((file) =>
      readLabelledReplies(folder + file).flatMap(({ text, labels }) => rowOf(file, text, labels)),
    );
}

/** Danger signs and stops, and what only sounds like them: known for these labels and no others. */
function safetyRows(): Row[] {
  const rowsOf = (file: string, read: (ruled: ReadonlySet<Label>) => [Label[], Label[]]) =>
    readFileSync(here + file, 'utf8')
      .split('\n')
      .filter((line) => line.trim() !== '')
      .flatMap((text) =>
        rowOf(file, text, []).map((row) => {
          const [labels, knownFor] = read(new Set(row.ruled.map((reason) => reason.label)));
          return { ...row, labels, knownFor: new Set(knownFor) };
        }),
      );
  const dangers: Label[] = ['urgent-eye', 'fall-or-injury'];
  return [
    ...rowsOf('urgent.txt', (ruled) => {
      const given = dangers.filter((label) => ruled.has(label));
      return [given, given];
    }),
    ...rowsOf('tempting.txt', () => [[], dangers]),
    ...rowsOf('stops.txt', () => [['stop'], ['stop']]),
    ...rowsOf('nonStops.txt', () => [[], ['stop']]),
  ];
}

/** Words thrown together at random: they say nothing. */
function noiseRows(): Row[] {
  const words = [...new Set(rowsWords())];
  let seed = 20_251_125;
  const next = (below: number) => {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((seed / 2 ** 32) * below);
  };
  return Array.from({ length: MOST_NOISE }, () =>
    Array.from({ length: 1 + next(7) }, () =>
      next(3) === 0 ? SCRAPS[next(SCRAPS.length)]! : words[next(words.length)]!,
    ).join(' '),
  ).flatMap((text) => rowOf('noise', text, []));
}

function rowsWords(): string[] {
  return readFileSync(`${here}nearWords.txt`, 'utf8')
    .split('\n')
    .filter((word) => word !== '');
}

function rowOf(file: string, text: string, labels: readonly Label[]): Row[] {
  if (readLocale(text).locale !== 'en') return [];
  const evidence = sorter(normalise(text, 'en'));
  const { board, asking } = evidence;
  const look = seer.look(board, asking);
  const features = kept(look.whole());
  const sentences = look.sentences.map((sentence) => kept(sentence()));
  return [{ file, labels, evidence, features, sentences, ruled: ruledBy(evidence) }];
}

function kept({ count, feature, amount }: Features): Sparse {
  return { at: feature.slice(0, count), amount: amount.slice(0, count) };
}

function trainReader(from: readonly Row[]) {
  const rowsWith = new Int32Array(seer.names.length);
  for (const { features } of from) for (const one of features.at) rowsWith[one]! += 1;
  const number = new Int32Array(seer.names.length).fill(-1);
  const scale: number[] = [];
  rowsWith.forEach((count, feature) => {
    if (count < LEAST_ROWS) return;
    number[feature] = scale.length;
    scale.push((Math.log((from.length + 1) / (count + 1)) / USUAL_RARITY) ** RARITY);
  });
  const vectorOf = ({ at, amount }: Sparse): Sparse => {
    const places: number[] = [];
    const amounts: number[] = [];
    for (let i = 0; i < at.length; i += 1) {
      const place = number[at[i]!]!;
      if (place < 0) continue;
      places.push(place);
      amounts.push(amount[i]! * scale[place]!);
    }
    return { at: Int32Array.from(places), amount: Float64Array.from(amounts) };
  };
  const vectors = new Map(from.map((row) => [row, vectorOf(row.features)]));
  const fitted = [...LABELS, 'nothing' as const].map((label) => {
    const known = from.filter((row) => row.knownFor === undefined || row.knownFor.has(label as Label));
    return fitLogistic(
      known.map((row) => vectors.get(row)!),
      known.map((row) => (label === 'nothing' ? row.labels.length === 0 : row.labels.includes(label))),
      { size: scale.length, shrink: SHRINK, weightOfYes: WEIGHT_OF_YES, rounds: ROUNDS },
    );
  });
  const logitsOf = ({ at, amount }: Sparse): Float64Array =>
    Float64Array.from(fitted, ({ bias, weight }) => {
      let sum = bias;
      for (let i = 0; i < at.length; i += 1) sum += weight[at[i]!]! * amount[i]!;
      return Math.max(-9, Math.min(9, sum));
    });
  return {
    read(row: Row) {
      const logits = logitsOf(vectorOf(row.features));
      const ofBestSentence = logits.slice();
      for (const features of row.sentences) {
        const sentence = logitsOf(vectorOf(features));
        for (let i = 0; i < sentence.length; i += 1)
          ofBestSentence[i] = Math.max(ofBestSentence[i]!, sentence[i]!);
      }
      return { logits, ofBestSentence, nothing: logits[NOTHING]! };
    },
    file(): string {
      const lines: string[] = [];
      const named = seer.names.map((name, feature) => [name, number[feature]!] as const);
      for (const [name, id] of named.filter(([, id]) => id >= 0).sort(([a], [b]) => (a < b ? -1 : 1))) {
        let packed = '';
        fitted.forEach(({ weight }, at) => {
          const worth = weight[id]! * scale[id]!;
          if (Math.abs(worth) < LEAST_WEIGHT) return;
          const steps = Math.round(worth * WEIGHT_STEPS_PER_UNIT);
          const character = Math.max(-MOST_STEPS, Math.min(MOST_STEPS, steps)) + MIDDLE_CHARACTER;
          packed += String.fromCharCode(FIRST_CHARACTER + at) + String.fromCharCode(character);
        });
        if (packed !== '') lines.push(`${name}\t${packed}`);
      }
      console.log(`${lines.length} features`);
      return `/** Made by \`npm run train:replies\` from the labelled replies of this repository; not written by hand. */
export const weights: { readonly bias: readonly number[]; readonly features: string } = {
  bias: ${JSON.stringify(fitted.map(({ bias }) => Number(bias.toFixed(3))))},
  features: ${JSON.stringify(lines.join('\n'))},
};
`;
    },
  };
}

type Balance = { readonly bias: number; readonly weights: Readonly<Record<string, number>> };

function groundsOfRow(row: Row): readonly ReturnType<ReturnType<typeof groundsOf>>[] {
  const opinion: Opinion = { ...apart.get(row)!, known: 1, words: 2, usedFor: () => [] };
  return LABELS.map((_, at) => groundsOf(row.evidence, row.ruled, opinion)(at));
}

function fitBalance(files: readonly string[]): Balance {
  const number = new Map<string, number>();
  const vectors: Sparse[] = [];
  const wanted: boolean[] = [];
  for (const row of rows) {
    if (!files.includes(row.file)) continue;
    groundsOfRow(row).forEach((grounds, at) => {
      for (const [name] of grounds) if (!number.has(name)) number.set(name, number.size);
      vectors.push({
        at: Int32Array.from(grounds, ([name]) => number.get(name)!),
        amount: Float64Array.from(grounds, ([, amount]) => amount),
      });
      wanted.push(row.labels.includes(LABELS[at]!));
    });
  }
  const { bias, weight } = fitLogistic(vectors, wanted, {
    size: number.size,
    shrink: 3,
    weightOfYes: 1,
    rounds: 8,
  });
  return {
    bias: Number(bias.toFixed(3)),
    weights: Object.fromEntries([...number].map(([name, id]) => [name, Number(weight[id]!.toFixed(3))])),
  };
}

function balanceFile(balance: Balance): string {
  const entries = Object.entries(balance.weights)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, weight]) => `    '${name}': ${weight},`);
  return `/** Made by \`npm run train:replies\`; not written by hand. What each ground is worth that \`weigh.ts\` names. */
export const balance: { readonly bias: number; readonly weights: Readonly<Record<string, number>> } = {
  bias: ${balance.bias},
  weights: {
${entries.join('\n')}
  },
};
`;
}

type Apart = { readonly row: Row; readonly given: ReadonlySet<Label> };

/** Replies as they stand by the chances alone, the best label standing where nothing is likely. */
function readApart(of: readonly Row[], balance: Balance): Apart[] {
  const show = process.argv.includes('--misses');
  return of.map((row) => {
    const chances = groundsOfRow(row).map((grounds) => {
      const sum = grounds.reduce(
        (so, [name, amount]) => so + (balance.weights[name] ?? 0) * amount,
        balance.bias,
      );
      return 1 / (1 + Math.exp(-sum));
    });
    const best = Math.max(...chances);
    const stands = (chance: number) =>
      chance >= 0.42 || (best < 0.42 && best > 0.34 && chance >= Math.max(0.34, best * 0.7));
    const given = new Set(LABELS.filter((_, at) => stands(chances[at]!)));
    const wrong = LABELS.flatMap((label, at) => {
      const wants = row.labels.includes(label);
      if (given.has(label) === wants) return [];
      return [`${wants ? 'missed' : 'false'} ${label} ${chances[at]!.toFixed(2)}`];
    });
    if (show && wrong.length > 0)
      console.log(`  ${wrong.join(', ')}: ${row.evidence.board.tokens.map(({ word }) => word).join(' ')}`);
    return { row, given };
  });
}

function measured(all: readonly Apart[]): string {
  const scores = LABELS.flatMap((label) => {
    const wanted = all.filter(({ row }) => row.labels.includes(label)).length;
    const given = all.filter((one) => one.given.has(label)).length;
    const hit = all.filter((one) => one.given.has(label) && one.row.labels.includes(label)).length;
    return wanted === 0 ? [] : [(2 * hit) / (wanted + given)];
  });
  const macro = scores.reduce((sum, one) => sum + one, 0) / scores.length;
  const exact = all.filter(
    ({ row, given }) => given.size === row.labels.length && row.labels.every((label) => given.has(label)),
  ).length;
  const silent = all.filter(({ row }) => row.labels.length === 0);
  const spoken = silent.filter(({ given }) => given.size > 0).length;
  return (
    `${all.length} replies, macro-F1 ${macro.toFixed(3)}, exactly right ${((100 * exact) / all.length).toFixed(1)} in 100, ` +
    `of ${silent.length} that say nothing ${spoken} read as something`
  );
}

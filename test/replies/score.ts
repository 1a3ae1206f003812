import { readdirSync } from 'node:fs';
import { sortReply } from '../../src/replies/sortReply.ts';
import { LABELS, type Label } from '../../src/replies/types.ts';
import { bayesReader, type Reader, wordsOf } from './bayesReader.ts';
import { type LabelledReply, readLabelledReplies } from './labelledReplies.ts';

/**
 * `npm run score -- FILE.tsv…`: how well the sorter reads labelled replies, beside two readers that anyone would
 * reach for first: naive Bayes of a general library and a plain list of keywords, both trained on the development
 * sets. Precision, recall and F1 per label with Wilson's 95 % intervals, macro-F1, exact match, every miss and false
 * alarm. A label that no row of the files has does not count in the macro-F1.
 */
type Tally = { hit: number; false: number; missed: number };

const here = new URL('.', import.meta.url).pathname;
const developmentSets = ['dev.tsv', 'dev2.tsv'].map((name) => here + name);

const files = process.argv.slice(2).filter((argument) => !argument.startsWith('-'));
if (files.length === 0) {
  console.error('Name at least one file of labelled replies: npm run score -- test/replies/dev.tsv');
  console.error(
    `There are: ${readdirSync(here)
      .filter((name) => name.endsWith('.tsv'))
      .join(', ')}`,
  );
  process.exit(2);
}
const rows = files.flatMap(readLabelledReplies);
const training = developmentSets.flatMap(readLabelledReplies);
const sorter: Reader = { name: 'sorter', read: (text) => new Set(sortReply({ text }).labels) };
const readers = [sorter, bayesReader(training), keywordReader(training)];

const results = readers.map((reader) => ({ reader, ...scored(reader, rows) }));
const [ours] = results;
console.log(`${rows.length} replies of ${files.join(', ')}\n`);
console.log('label                 rows  precision           recall              F1');
for (const label of LABELS) {
  const tally = ours!.tallies.get(label)!;
  if (tally.hit + tally.missed + tally.false === 0) continue;
  const rowsOf = tally.hit + tally.missed;
  console.log(
    `${label.padEnd(20)} ${String(rowsOf).padStart(5)}  ${share(tally.hit, tally.hit + tally.false)}  ` +
      `${share(tally.hit, rowsOf)}  ${f1(tally).toFixed(3)}`,
  );
}
console.log('');
for (const { reader, macro, exact, unsafe } of results)
  console.log(
    `${reader.name.padEnd(14)} macro-F1 ${macro.toFixed(3)}   exact match ${share(exact, rows.length)}   ` +
      `danger signs missed ${unsafe.dangerMissed}, stops missed ${unsafe.stopMissed}, false stops ${unsafe.stopFalse}`,
  );
console.log('\nMisses and false alarms of the sorter');
for (const line of ours!.faults) console.log(line);

function scored(reader: Reader, all: readonly LabelledReply[]) {
  const tallies = new Map<Label, Tally>(LABELS.map((label) => [label, { hit: 0, false: 0, missed: 0 }]));
  const faults: string[] = [];
  const unsafe = { dangerMissed: 0, stopMissed: 0, stopFalse: 0 };
  let exact = 0;
  for (const { text, labels } of all) {
    const given = reader.read(text);
    const missed = labels.filter((label) => !given.has(label));
    const extra = [...given].filter((label) => !labels.includes(label));
    for (const label of labels) tallies.get(label)![given.has(label) ? 'hit' : 'missed'] += 1;
    for (const label of extra) tallies.get(label)!.false += 1;
    if (missed.some((label) => label === 'urgent-eye' || label === 'fall-or-injury'))
      unsafe.dangerMissed += 1;
    if (missed.includes('stop')) unsafe.stopMissed += 1;
    if (extra.includes('stop')) unsafe.stopFalse += 1;
    if (missed.length + extra.length === 0) exact += 1;
    else
      faults.push(
        `  missed [${missed.join(' ')}]  false [${extra.join(' ')}]  ${text.replaceAll('\n', ' / ')}`,
      );
  }
  const counted = LABELS.map((label) => tallies.get(label)!).filter((one) => one.hit + one.missed > 0);
  const macro = counted.reduce((sum, one) => sum + f1(one), 0) / Math.max(counted.length, 1);
  return { tallies, faults, exact, macro, unsafe };
}

function f1(tally: Tally): number {
  const both = 2 * tally.hit + tally.false + tally.missed;
  return both === 0 ? 0 : (2 * tally.hit) / both;
}

/** A share with its 95 % interval (E. B. Wilson, J. Am. Stat. Assoc. 22 (1927), 209-212; from memory). */
function share(part: number, whole: number): string {
  if (whole === 0) return '  –                ';
  const z = 1.959964;
  const p = part / whole;
  const middle = (p + (z * z) / (2 * whole)) / (1 + (z * z) / whole);
  const half = (z * Math.sqrt((p * (1 - p)) / whole + (z * z) / (4 * whole * whole))) / (1 + (z * z) / whole);
  return `${p.toFixed(3)} (${(middle - half).toFixed(3)}–${(middle + half).toFixed(3)})`;
}

/** The words that stand out most for each label: seen with it at least twice, and mostly with it. */
function keywordReader(from: readonly LabelledReply[]): Reader {
  const keywords = new Map<Label, Set<string>>();
  for (const label of LABELS) {
    const withIt = new Map<string, number>();
    const all = new Map<string, number>();
    for (const row of from)
      for (const word of new Set(wordsOf(row.text))) {
        all.set(word, (all.get(word) ?? 0) + 1);
        if (row.labels.includes(label)) withIt.set(word, (withIt.get(word) ?? 0) + 1);
      }
    keywords.set(
      label,
      new Set([...withIt].filter(([word, n]) => n >= 2 && n / all.get(word)! >= 0.5).map(([word]) => word)),
    );
  }
  return {
    name: 'keyword list',
    read: (text) => {
      const words = wordsOf(text);
      return new Set(LABELS.filter((label) => words.some((word) => keywords.get(label)!.has(word))));
    },
  };
}

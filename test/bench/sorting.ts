import { sortReply } from '../../src/replies/sortReply.ts';
import { bayesReader } from '../replies/bayesReader.ts';
import { readLabelledReplies } from '../replies/labelledReplies.ts';
import { type BenchRow, inTurn, percentile } from './row.ts';

const RUNS = 3;
const LEAST_EACH_RUN = 4_000;
const folder = new URL('../replies/', import.meta.url).pathname;

/** Replies sorted a second on one core, beside naive Bayes of a general library on the same words. */
export async function benchSorting(): Promise<BenchRow[]> {
  const rows = ['dev.tsv', 'dev2.tsv'].flatMap((name) => readLabelledReplies(folder + name));
  const texts = rows.map((one) => one.text);
  const repeated = Array.from({ length: LEAST_EACH_RUN }, (_, at) => texts[at % texts.length]!);
  const bayes = bayesReader(rows).read;
  for (const text of texts) {
    sortReply({ text });
    bayes(text);
  }
  const slow: number[] = [];
  const got = await inTurn(
    RUNS,
    async () => {
      const times: number[] = [];
      const began = performance.now();
      let last = began;
      for (const text of repeated) {
        sortReply({ text });
        const now = performance.now();
        times.push(now - last);
        last = now;
      }
      slow.push(percentile(times, 0.99));
      return repeated.length / ((last - began) / 1000);
    },
    async () => {
      const began = performance.now();
      for (const text of repeated) bayes(text);
      return repeated.length / ((performance.now() - began) / 1000);
    },
  );
  const on = 'no database' as const;
  return [
    {
      what: 'replies sorted',
      on,
      beside: 'naive Bayes, wink',
      unit: 'per s',
      ...got,
      goal: { of: 'figure', least: 2_000 },
    },
    {
      what: 'one reply sorted, p99',
      on,
      beside: '–',
      unit: 'ms',
      ours: slow,
      theirs: [],
      goal: { of: 'figure', most: 5 },
    },
  ];
}

import { readFileSync } from 'node:fs';
import { weigh } from '../../src/causes/weigh.ts';
import type { WeighInput } from '../../src/causes/weighing.ts';
import { type BenchRow, inTurn } from './row.ts';

const RUNS = 3;
const EACH_RUN = 4_000;

/** Cases ranked a second with their next question, over the vignettes of the check values. */
export async function benchRanking(): Promise<BenchRow[]> {
  const file = new URL('../checks/causes.json', import.meta.url);
  const inputs: WeighInput[] = JSON.parse(readFileSync(file, 'utf8'));
  for (const input of inputs) weigh(input);
  const got = await inTurn(RUNS, async () => {
    const began = performance.now();
    for (let at = 0; at < EACH_RUN; at += 1) weigh(inputs[at % inputs.length]!);
    return EACH_RUN / ((performance.now() - began) / 1000);
  });
  return [
    {
      what: 'causes ranked, act chosen, question found',
      on: 'no database',
      beside: '–',
      unit: 'per s',
      ours: got.ours,
      theirs: [],
      goal: { of: 'figure', least: 5_000 },
    },
  ];
}

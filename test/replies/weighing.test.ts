import { describe, expect, test } from 'vitest';
import { balance } from '../../src/replies/model/balance.generated.ts';
import { weights } from '../../src/replies/model/weights.generated.ts';
import { sortReply } from '../../src/replies/sortReply.ts';
import { LABELS } from '../../src/replies/types.ts';
import { fitLogistic, type Sparse } from './fitLogistic.ts';

const row = (...features: readonly (readonly [number, number])[]): Sparse => ({
  at: Int32Array.from(features, ([at]) => at),
  amount: Float64Array.from(features, ([, amount]) => amount),
});

describe('fitting', () => {
  test('the weights are those at which the slope of the loss is nought', () => {
    const rows = [row([0, 1]), row([0, 1], [1, 2]), row([1, 1]), row([0, 2], [1, 1]), row([1, 3])];
    const wanted = [true, true, false, true, false];
    const shrink = 0.5;
    const { bias, weight } = fitLogistic(rows, wanted, { size: 2, shrink, weightOfYes: 1, rounds: 400 });
    const slope = [shrink * weight[0]!, shrink * weight[1]!];
    let biasSlope = (shrink * bias) / 9;
    rows.forEach(({ at, amount }, i) => {
      let sum = bias;
      for (let k = 0; k < at.length; k += 1) sum += weight[at[k]!]! * amount[k]!;
      const error = 1 / (1 + Math.exp(-sum)) - (wanted[i] ? 1 : 0);
      for (let k = 0; k < at.length; k += 1) slope[at[k]!]! += error * amount[k]!;
      biasSlope += error;
    });
    expect(Math.max(...slope.map(Math.abs), Math.abs(biasSlope))).toBeLessThan(1e-4);
  });
});

describe('the second reader', () => {
  test('has a bias for each label and more than ten thousand features', () => {
    expect(weights.bias.length).toBeGreaterThanOrEqual(LABELS.length);
    expect(weights.features.split('\n').length).toBeGreaterThan(10_000);
  });

  test('a phrase of the lexicon and the reader’s opinion both speak for a label', () => {
    expect(balance.weights.rule! + balance.weights['rule and opinion']!).toBeGreaterThan(0);
    expect(balance.weights.opinion).toBeGreaterThan(0);
  });

  test('reads what no phrase tells, and shows the words that spoke for it', () => {
    const text = 'the aisles slosh about like a bath when I turn';
    const reading = sortReply({ text });
    expect(reading.labels).toContain('swim');
    const shown = reading.spans.filter((span) => span.label === 'swim');
    expect(shown.length).toBeGreaterThan(0);
    for (const span of shown) expect(span.end - span.start).toBeLessThan(text.length);
  });

  test('takes no danger and no stop away', () => {
    const long = 'All is lovely, perfect, the best I ever had, I read everything and see everything. ';
    expect(sortReply({ text: `${long}Flashes of light in my left eye since yesterday.` }).urgent).toBe(true);
    expect(sortReply({ text: `${long}Unsubscribe me please.` }).stop).toBe(true);
  });

  test('says nothing of words that it has never seen', () => {
    expect(sortReply({ text: 'zxq vlorp qwxen brmf' }).labels).toEqual([]);
  });
});

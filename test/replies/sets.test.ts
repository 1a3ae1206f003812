import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { sortReply } from '../../src/replies/sortReply.ts';
import { LABELS, type Label } from '../../src/replies/types.ts';
import { readLabelledReplies } from './labelledReplies.ts';

const here = new URL('.', import.meta.url).pathname;

function macroF1(names: readonly string[]): number {
  const rows = names.flatMap((name) => readLabelledReplies(here + name));
  const read = rows.map((row) => ({ wanted: row.labels, given: sortReply({ text: row.text }).labels }));
  const scores = LABELS.flatMap((label) => {
    const has = (labels: readonly Label[]) => labels.includes(label);
    const hit = read.filter((one) => has(one.wanted) && has(one.given)).length;
    const either = read.filter((one) => has(one.wanted)).length + read.filter((one) => has(one.given)).length;
    return read.some((one) => has(one.wanted)) ? [(2 * hit) / either] : [];
  });
  return scores.reduce((sum, score) => sum + score, 0) / scores.length;
}

describe('labelled replies', () => {
  test('the development sets are read with a macro-F1 of 0.95 or better', () => {
    expect(macroF1(['dev.tsv', 'dev2.tsv'])).toBeGreaterThanOrEqual(0.95);
  });

  test('replies held back from all tuning and training are read with a macro-F1 of 0.8 or better', () => {
    expect(macroF1(['held-fresh.tsv'])).toBeGreaterThanOrEqual(0.8);
    expect(macroF1(['held-hand.tsv'])).toBeGreaterThanOrEqual(0.8);
  });

  test('no danger and no stop is missed in the held-back replies', () => {
    for (const { text, labels } of ['held-fresh.tsv', 'held-hand.tsv'].flatMap((name) =>
      readLabelledReplies(here + name),
    )) {
      const read = sortReply({ text });
      if (labels.includes('urgent-eye') || labels.includes('fall-or-injury'))
        expect(read.urgent, text).toBe(true);
      if (labels.includes('stop')) expect(read.stop, text).toBe(true);
    }
  });

  test('replies by other hands, that the second reader was trained on, bear known labels only', () => {
    const names = readdirSync(here).filter((name) => name.startsWith('hand-'));
    expect(names.length).toBeGreaterThanOrEqual(8);
    expect(names.flatMap((name) => readLabelledReplies(here + name)).length).toBeGreaterThan(2000);
  });

  test('every row of the files bears known labels and no text stands twice with other labels', () => {
    const seen = new Map<string, string>();
    for (const name of ['dev.tsv', 'dev2.tsv', 'own.tsv', 'fresh-1.tsv', 'fresh-2.tsv'])
      for (const { text, labels } of readLabelledReplies(here + name)) {
        const written = [...labels].sort().join();
        expect(seen.get(text) ?? written, text).toBe(written);
        seen.set(text, written);
      }
    expect(seen.size).toBeGreaterThan(1000);
  });
});

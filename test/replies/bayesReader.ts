import naiveBayes from 'wink-naive-bayes-text-classifier';
import { LABELS, type Label } from '../../src/replies/types.ts';
import type { LabelledReply } from './labelledReplies.ts';

/** A way to read a reply, for standing beside the sorter. */
export type Reader = { readonly name: string; readonly read: (text: string) => ReadonlySet<Label> };

export function wordsOf(text: string): string[] {
  return text.toLowerCase().match(/[\p{L}\p{N}']+/gu) ?? [];
}

/** One two-class naive Bayes per label, on single words. */
export function bayesReader(from: readonly LabelledReply[]): Reader {
  const models = LABELS.flatMap((label) => {
    if (!from.some((row) => row.labels.includes(label))) return [];
    const model = naiveBayes();
    model.definePrepTasks([wordsOf]);
    model.defineConfig({ considerOnlyPresence: true, smoothingFactor: 0.5 });
    for (const row of from) model.learn(row.text, row.labels.includes(label) ? 'yes' : 'no');
    model.consolidate();
    return [{ label, model }];
  });
  return {
    name: 'naive Bayes',
    read: (text) =>
      new Set(models.filter(({ model }) => model.predict(text) === 'yes').map(({ label }) => label)),
  };
}

import { readFileSync } from 'node:fs';
import { LABELS, type Label } from '../../src/replies/types.ts';

export type LabelledReply = { readonly text: string; readonly labels: readonly Label[] };

/** Reads a file of replies: `text<TAB>labels`, labels parted by commas, line ends in the text written as \n. */
export function readLabelledReplies(path: string): LabelledReply[] {
  const known = new Set<string>(LABELS);
  return readFileSync(path, 'utf8')
    .split('\n')
    .filter((line, at) => line !== '' && !(at === 0 && line === 'text\tlabels'))
    .map((line) => {
      const [text = '', written = ''] = line.split('\t');
      const labels = written
        .split(',')
        .map((label) => label.trim())
        .filter((label) => label !== '');
      for (const label of labels) if (!known.has(label)) throw new Error(`${path}: no such label "${label}"`);
      return { text: text.replaceAll('\\n', '\n'), labels: labels as Label[] };
    });
}

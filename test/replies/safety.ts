import { readFileSync } from 'node:fs';
import { sortReply } from '../../src/replies/sortReply.ts';
const d = new URL('.', import.meta.url).pathname;
for (const [f, want] of [['urgent.txt', true], ['tempting.txt', false]] as const)
  for (const text of readFileSync(d + f, 'utf8').split('\n').filter(Boolean)) {
    const r = sortReply({ text });
    if (r.urgent !== want) console.log(want ? 'MISSED' : 'FALSE ', text, want ? '' : r.spans.filter((s) => s.label === 'urgent-eye' || s.label === 'fall-or-injury').map((s) => text.slice(s.start, s.end)).join(' | '));
  }

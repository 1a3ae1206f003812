import { sortReply } from '../../src/replies/sortReply.ts';
import { LABELS } from '../../src/replies/types.ts';
import { readLabelledReplies } from './labelledReplies.ts';
const rows = process.argv.slice(2).filter((a) => !a.startsWith('-')).flatMap(readLabelledReplies);
const show = process.argv.includes('-v');
const tp: any = {}, fp: any = {}, fn: any = {};
let exact = 0;
const t0 = performance.now();
for (const { text, labels } of rows) {
  const r = sortReply({ text });
  const got = new Set<string>(r.labels), want = new Set<string>(labels);
  const miss = [...want].filter((l) => !got.has(l)), extra = [...got].filter((l) => !want.has(l));
  for (const l of want) if (got.has(l)) tp[l] = (tp[l] ?? 0) + 1; else fn[l] = (fn[l] ?? 0) + 1;
  for (const l of extra) fp[l] = (fp[l] ?? 0) + 1;
  if (!miss.length && !extra.length) exact++;
  else if (show) console.log(`${text.replaceAll('\n', '\\n').slice(0, 260)}\n     MISS ${miss.join(',')}  EXTRA ${extra.map((l) => l + '«' + r.spans.filter((s) => s.label === l).map((s) => text.slice(s.start, s.end)).slice(0, 2).join('|') + '»').join(', ')}`);
}
const ms = performance.now() - t0;
let sum = 0, n = 0;
for (const l of LABELS) {
  const a = tp[l] ?? 0, b = fp[l] ?? 0, c = fn[l] ?? 0;
  if (a + c === 0 && b === 0) continue;
  const f = (2 * a) / (2 * a + b + c || 1);
  if (a + c > 0) { sum += f; n++; }
  console.log(l.padEnd(20), `tp ${a} fp ${b} fn ${c} F1 ${f.toFixed(2)}`);
}
console.log(`macro ${(sum / n).toFixed(3)} exact ${(exact / rows.length).toFixed(3)} (${rows.length}) ${(ms / rows.length).toFixed(2)} ms/reply`);

import { readCheckRows, type ScoredRow, scoreRows } from './checkRows.ts';

/** Prints the rates over the vignettes, then each miss with what moved its leading and its wanted causes. */
const percent = (rate: number): string => `${(rate * 100).toFixed(1)} %`;

const told = ({ row, weighing }: ScoredRow): string => {
  const shown = weighing.causes.filter(({ id }, place) => place < 3 || row.expect_top.includes(id));
  const lines = shown.map(({ id, share, evidence }) => {
    const moved = evidence.map((e) => `${e.fact} ×${e.times.toFixed(2)} (${e.words})`).join('; ');
    return `    ${id} ${percent(share)}: ${moved}`;
  });
  return [
    `${row.id} [${row.reply_labels.join(', ')}] ${JSON.stringify(row.job)}`,
    `  wanted ${row.expect_top.join(' | ')} → ${row.expect_action.join(' | ')}; act ${weighing.act.id}: ${weighing.act.why}`,
    ...lines,
    ...(weighing.problems ?? []).map(({ what }) => `    problem: ${what}`),
  ].join('\n');
};

const score = scoreRows(readCheckRows(process.argv[2]));
const misses = score.rows.filter((row) => !row.first || !row.act || row.falseRemake || row.falseUrgent);
console.log(misses.map(told).join('\n\n'));
console.log(
  `\n${score.rows.length} vignettes: first cause ${percent(score.first)}, among three ${percent(score.amongThree)}, act ${percent(score.act)}, ` +
    `remakes not accepted ${score.falseRemakes.length} (${score.falseRemakes.join(' ')}), urgent without danger ${score.falseUrgents.length}`,
);

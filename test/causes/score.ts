import { readCheckRows, type ScoredRow, scoreRows } from './checkRows.ts';
import { calibrationOf, questionsOf } from './simulatedFigures.ts';

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

const SEED = 20261125;
const { all, leading } = calibrationOf(SEED, 3000);
const { rightAtOnce, byNumbers, inOrder } = questionsOf(SEED, 600);
const tenths = (of: typeof all): string =>
  of.map(({ tenth, count, off }) => `${tenth}: ${(100 * off).toFixed(1)} (${count})`).join(', ');
console.log(
  `\nSimulated shop, seed ${SEED}, share said less share found, in points, by tenths that hold 100:` +
    `\n  every cause: ${tenths(all)}\n  leading cause: ${tenths(leading)}` +
    `\n600 wearers, right act at once ${rightAtOnce}; asked by the numbers ${byNumbers.put} questions for ${byNumbers.gained} more, ` +
    `in a fixed order ${inOrder.put} for ${inOrder.gained} more`,
);

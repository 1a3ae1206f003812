import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Weighing, weigh } from '../../src/causes/weigh.ts';

/** One vignette: what was said, what is known of the job, and every first cause and act that its source accepts. */
export type CheckRow = {
  readonly id: string;
  readonly reply_labels: readonly string[];
  readonly job: Readonly<Record<string, unknown>>;
  readonly expect_top: readonly string[];
  readonly expect_action: readonly string[];
  readonly source: string;
  readonly note?: string;
};

export type ScoredRow = {
  readonly row: CheckRow;
  readonly weighing: Weighing;
  readonly first: boolean;
  readonly amongThree: boolean;
  readonly act: boolean;
  readonly falseRemake: boolean;
  readonly falseUrgent: boolean;
};

export type Score = {
  readonly rows: readonly ScoredRow[];
  readonly first: number;
  readonly amongThree: number;
  readonly act: number;
  readonly falseRemakes: readonly string[];
  readonly falseUrgents: readonly string[];
};

/** The vignettes of `causes.json` in the checks folder, or of another folder named by CHECKS_DIR. */
export const readCheckRows = (
  path = join(process.env.CHECKS_DIR ?? 'test/checks', 'causes.json'),
): readonly CheckRow[] => JSON.parse(readFileSync(path, 'utf8'));

/** How often the first cause, one of the first three, and the act are among those accepted. */
export const scoreRows = (rows: readonly CheckRow[]): Score => {
  const scored = rows.map(scoreRow);
  const rate = (hit: (row: ScoredRow) => boolean) => scored.filter(hit).length / scored.length;
  return {
    rows: scored,
    first: rate((row) => row.first),
    amongThree: rate((row) => row.amongThree),
    act: rate((row) => row.act),
    falseRemakes: scored.filter((row) => row.falseRemake).map(({ row }) => row.id),
    falseUrgents: scored.filter((row) => row.falseUrgent).map(({ row }) => row.id),
  };
};

const scoreRow = (row: CheckRow): ScoredRow => {
  const weighing = weigh(row);
  const top = weighing.causes.slice(0, 3).map(({ id }) => id);
  const act = weighing.act.id;
  return {
    row,
    weighing,
    first: row.expect_top.includes(top[0] ?? ''),
    amongThree: top.some((id) => row.expect_top.includes(id)),
    act: row.expect_action.includes(act),
    falseRemake: act === 'remake' && !row.expect_action.includes('remake'),
    falseUrgent: act === 'urgent' && !row.expect_action.includes('urgent'),
  };
};

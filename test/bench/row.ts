/** What one measurement came to: several runs of ours and of what stands beside it, taken in turn in one process. */
export type BenchRow = {
  readonly what: string;
  readonly on: 'server' | 'embedded' | 'no database';
  readonly beside: string;
  /** Unit of both figures, as "check-ins/s" or "ms". */
  readonly unit: string;
  readonly ours: readonly number[];
  /** Empty: nothing stands beside it, the goal is a figure of its own. */
  readonly theirs: readonly number[];
  readonly goal: Goal;
};

/** `least`: ratio (or figure, where nothing stands beside) at least so much; `most`: at most. */
export type Goal = {
  readonly of: 'ratio' | 'figure';
  readonly least?: number;
  readonly most?: number;
};

export type Verdict = {
  readonly ours: number;
  readonly spread: number;
  readonly theirs: number | undefined;
  readonly ratio: number | undefined;
  readonly met: boolean;
};

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/** Half the range of the runs over their median: how far one run may be from another. */
export function spreadOf(values: readonly number[]): number {
  return (Math.max(...values) - Math.min(...values)) / 2 / median(values);
}

export function judge(row: BenchRow): Verdict {
  const ours = median(row.ours);
  const theirs = row.theirs.length > 0 ? median(row.theirs) : undefined;
  const ratio = theirs === undefined ? undefined : ours / theirs;
  const judged = row.goal.of === 'ratio' ? ratio : ours;
  const met =
    judged !== undefined &&
    (row.goal.least === undefined || judged >= row.goal.least) &&
    (row.goal.most === undefined || judged <= row.goal.most);
  return { ours, spread: spreadOf(row.ours), theirs, ratio, met };
}

const figure = (value: number): string =>
  value >= 100
    ? Math.round(value).toLocaleString('en-GB')
    : value >= 10
      ? value.toFixed(1)
      : value.toFixed(2);

const goalWords = ({ of, least, most }: Goal): string => {
  const kind = of === 'ratio' ? ' ×' : '';
  return least === undefined ? `≤ ${most}${kind}` : `≥ ${least}${kind}`;
};

const HEADS = ['what', 'on', 'ours', '±', 'unit', 'beside', 'theirs', 'ratio', 'goal', ''];

/** The table that is printed: medians, spread, ratio, goal, met or not. */
export function tableOf(rows: readonly BenchRow[]): string {
  const lines = rows.map((row) => {
    const { ours, spread, theirs, ratio, met } = judge(row);
    return [
      row.what,
      row.on,
      figure(ours),
      `${Math.round(spread * 100)} %`,
      row.unit,
      row.beside,
      theirs === undefined ? '–' : figure(theirs),
      ratio === undefined ? '–' : ratio.toFixed(2),
      goalWords(row.goal),
      met ? 'met' : 'MISSED',
    ];
  });
  const widths = HEADS.map((head, at) => Math.max(head.length, ...lines.map((line) => line[at]!.length)));
  return [HEADS, ...lines]
    .map((line) =>
      line
        .map((cell, at) => cell.padEnd(widths[at]!))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

/** Takes ours and theirs in turn, so that a busy moment of the machine falls on both. */
export async function inTurn(
  runs: number,
  ours: (run: number) => Promise<number>,
  theirs?: (run: number) => Promise<number>,
): Promise<{ ours: number[]; theirs: number[] }> {
  const got = { ours: [] as number[], theirs: [] as number[] };
  for (let run = 0; run < runs; run += 1) {
    got.ours.push(await ours(run));
    if (theirs) got.theirs.push(await theirs(run));
  }
  return got;
}

/** Seconds that a piece of work took. */
export async function secondsOf(work: () => Promise<unknown>): Promise<number> {
  const began = performance.now();
  await work();
  return (performance.now() - began) / 1000;
}

export function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)]!;
}

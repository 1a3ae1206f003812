/**
 * Tally of pairs by the day on which their watch ended: how many were still watched, how many ended in each way, how
 * many were lost from sight. Ends come before losses on the same day.
 */
export type DayTally = {
  readonly day: number;
  readonly atRisk: number;
  /** `ends[k]`: how many ended in way k on this day. */
  readonly ends: readonly number[];
  readonly allEnds: number;
};

/** `ways[i]` is the index of the way that pair i ended in, or null when it was only lost from sight. */
export function tallyByDay(
  days: readonly number[],
  ways: readonly (number | null)[],
  wayCount: number,
): DayTally[] {
  const byDay = new Map<number, { ends: number[]; lost: number }>();
  days.forEach((day, at) => {
    let entry = byDay.get(day);
    if (entry === undefined) {
      entry = { ends: new Array<number>(wayCount).fill(0), lost: 0 };
      byDay.set(day, entry);
    }
    const way = ways[at]!;
    if (way === null) entry.lost += 1;
    else entry.ends[way]! += 1;
  });
  let atRisk = days.length;
  const tally: DayTally[] = [];
  for (const day of [...byDay.keys()].sort((a, b) => a - b)) {
    const { ends, lost } = byDay.get(day)!;
    const allEnds = ends.reduce((sum, count) => sum + count, 0);
    tally.push({ day, atRisk, ends, allEnds });
    atRisk -= allEnds + lost;
  }
  return tally;
}

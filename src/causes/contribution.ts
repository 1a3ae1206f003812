import type { FactGroup } from './catalogue/types.ts';
import type { FindingId, FindingValue } from './findings.ts';

/** One thing that moved the odds of one cause. */
export type Contribution = {
  readonly finding: FindingId | 'reply_labels';
  readonly value: FindingValue;
  readonly group: FactGroup;
  /** What the catalogue says it is worth alone; over 1 speaks for the cause, under 1 against it. */
  readonly timesAlone: number;
  /** What it was worth beside the other facts of its group. */
  readonly times: number;
  readonly source: string;
};

/** What is left of a fact beside a stronger one of its group: the fourth root of its odds. */
export const besideAStronger = (times: number): number => times ** 0.25;

/** Within a group of facts the strongest counts fully, each other a quarter; ties go to the one that speaks for. */
export const weightedByGroup = (contributions: readonly Contribution[]): readonly Contribution[] => {
  if (contributions.length < 2) return contributions;
  const strongest = new Map<FactGroup, Contribution>();
  for (const c of contributions) {
    const best = strongest.get(c.group);
    if (!best || stronger(c, best)) strongest.set(c.group, c);
  }
  if (strongest.size === contributions.length) return contributions;
  return contributions.map((c) =>
    strongest.get(c.group) === c ? c : { ...c, times: besideAStronger(c.timesAlone) },
  );
};

const stronger = (a: Contribution, b: Contribution): boolean => {
  const [strengthA, strengthB] = [strength(a.timesAlone), strength(b.timesAlone)];
  return strengthA === strengthB ? a.timesAlone > b.timesAlone : strengthA > strengthB;
};
const strength = (times: number): number => (times >= 1 ? times : 1 / times);

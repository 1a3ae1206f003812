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
  let out: Contribution[] | undefined;
  for (let i = 0; i < contributions.length; i += 1) {
    const c = contributions[i] as Contribution;
    for (let j = 0; j < contributions.length; j += 1) {
      if (!outdoes(contributions[j] as Contribution, j, c, i)) continue;
      out ??= contributions.slice();
      out[i] = { ...c, times: besideAStronger(c.timesAlone) };
      break;
    }
  }
  return out ?? contributions;
};

/** Whether another of the same group is the stronger one; of equals the first stands. */
const outdoes = (other: Contribution, otherPlace: number, c: Contribution, place: number): boolean => {
  if (other === c || other.group !== c.group) return false;
  const strengthOther = strength(other.timesAlone);
  const strengthOwn = strength(c.timesAlone);
  if (strengthOther !== strengthOwn) return strengthOther > strengthOwn;
  return other.timesAlone === c.timesAlone ? otherPlace < place : other.timesAlone > c.timesAlone;
};
const strength = (times: number): number => (times >= 1 ? times : 1 / times);

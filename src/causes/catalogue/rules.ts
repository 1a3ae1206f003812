import type { FindingId } from '../findings.ts';
import { PRACTICE } from './sources.ts';
import type { Act, CauseAct, Condition, EvidenceRule, FactGroup } from './types.ts';

type Where = {
  readonly group: Exclude<FactGroup, 'complaint'>;
  readonly source?: string;
  readonly also?: readonly Condition[];
};

const rule = (
  condition: Condition,
  times: number,
  { group, source = PRACTICE, also }: Where,
): EvidenceRule => ({
  ...condition,
  times,
  group,
  source,
  ...(also ? { also } : {}),
});

/** The finding is `low` or more, and under `high` where one is given. */
export const atLeast = (finding: FindingId, low: number, high?: number): Condition => ({
  finding,
  test: high === undefined ? { from: low } : { from: low, below: high },
});
/** The finding is under `high`. */
export const under = (finding: FindingId, high: number): Condition => ({ finding, test: { below: high } });
/** The finding is this word, or yes, or no. */
export const is = (finding: FindingId, value: boolean | string): Condition => ({
  finding,
  test: { is: value },
});

/** Speaks for the cause: its odds are multiplied by `times`, over 1. */
export const speaksFor = (condition: Condition, times: number, where: Where): EvidenceRule =>
  rule(condition, times, where);
/** Speaks against the cause: its odds are multiplied by `times`, under 1. */
export const speaksAgainst = (condition: Condition, times: number, where: Where): EvidenceRule =>
  rule(condition, times, where);

export const act = (name: Act, ...when: readonly Condition[]): CauseAct =>
  when.length > 0 ? { act: name, when } : { act: name };

/** Time and use lose weight as weeks go by: halved after day 14, a quarter after day 30. */
export const fadesWithDays = (source: string): readonly EvidenceRule[] => [
  speaksAgainst(atLeast('day', 15, 31), 0.5, { group: 'time', source }),
  speaksAgainst(atLeast('day', 31), 0.25, { group: 'time', source }),
];

/** A pair checked against its order and found right cannot have been made wrong; one found wrong may have been. */
export const benchSpeaks = (clean: number, faulty: number): readonly EvidenceRule[] => [
  speaksAgainst(is('bench_within_limits', true), clean, { group: 'bench' }),
  speaksFor(is('bench_within_limits', false), faulty, { group: 'bench' }),
];

/** With nothing found wrong on the bench, what the bench cannot find becomes likelier. */
export const likelierWhenBenchClean = (times: number): EvidenceRule =>
  speaksFor(is('bench_within_limits', true), times, { group: 'bench' });

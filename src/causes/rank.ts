import type { Label } from '../replies/types.ts';
import { CATALOGUE } from './catalogue/index.ts';
import type { Cause, EvidenceRule } from './catalogue/types.ts';
import { complaintContributions, complaintOf, placedByAnswer, withWhatIsSaid } from './complaint.ts';
import { passes } from './conditions.ts';
import { type Contribution, weightedByGroup } from './contribution.ts';
import { type FindingId, type FindingValue, factsBehind, findingOf } from './findings.ts';
import type { JobFactKey, JobFacts } from './jobFacts.ts';

export type RankedCause = {
  readonly cause: Cause;
  readonly share: number;
  readonly contributions: readonly Contribution[];
};

/** Starting weights by cause id, where a shop's own outcomes have moved them. */
export type StartingWeights = Readonly<Record<string, number>>;

/**
 * The share of each cause, given what the wearer said and what is known of the job, largest first.
 *
 * Log odds: ln share = ln starting weight + sum over groups of facts of (strongest + 1/4 of each other). A fact that is
 * unknown says nothing. A label is worth (share of the cause among wearers who say it) / (share among all). Shares sum
 * to one, and "something else" never falls under 2 in 100 (common practice, no source).
 */
export const rankCauses = (
  labels: readonly Label[],
  facts: JobFacts,
  startingWeights: StartingWeights = {},
): readonly RankedCause[] => {
  const scored = scoreCauses(labels, facts, startingWeights);
  const shares = sharesOf(scored.map(({ logOdds }) => logOdds));
  return scored
    .map(({ cause, contributions }, i) => ({ cause, share: shares[i] as number, contributions }))
    .sort((a, b) => b.share - a.share);
};

/** The same before shares are made: one log odds for each cause, in the order of the catalogue. */
export const scoreCauses = (
  labels: readonly Label[],
  facts: JobFacts,
  startingWeights: StartingWeights = {},
) => {
  const told = placedByAnswer(labels, facts);
  const heard = complaintOf(told);
  const evidence = evidenceOfAll(findingsIn(told, withWhatIsSaid(told, facts)));
  return CATALOGUE.map((cause, index) => {
    const contributions = weightedByGroup([
      ...complaintContributions(heard, index),
      ...(evidence.get(index) ?? []),
    ]);
    const weight = startingWeights[cause.id] ?? cause.startingWeight;
    let odds = weight;
    for (const { times } of contributions) odds *= times;
    return { cause, contributions, logOdds: Math.log(odds) };
  });
};

/** Shares from log odds, summing to one, with the floor of "something else" kept. */
export const sharesOf = (logOdds: readonly number[]): readonly number[] => {
  const top = Math.max(...logOdds);
  const odds = logOdds.map((value) => Math.exp(value - top));
  const total = odds.reduce((sum, value) => sum + value, 0);
  return withFloor(odds.map((value) => value / total));
};

/** How far down the share of "something else" may go. */
export const SOMETHING_ELSE_FLOOR = 0.02;
const unknownCause = CATALOGUE.length - 1;

const withFloor = (shares: readonly number[]): readonly number[] => {
  const rest = shares[unknownCause] as number;
  if (rest >= SOMETHING_ELSE_FLOOR) return shares;
  const scale = (1 - SOMETHING_ELSE_FLOOR) / (1 - rest);
  return shares.map((share, i) => (i === unknownCause ? SOMETHING_ELSE_FLOOR : share * scale));
};

const usedFindings: readonly FindingId[] = [
  ...new Set(
    CATALOGUE.flatMap(({ evidence }) =>
      evidence.flatMap((r) => [r.finding, ...(r.also ?? []).map((a) => a.finding)]),
    ),
  ),
];
const findingsOfFact: ReadonlyMap<JobFactKey, readonly FindingId[]> = (() => {
  const map = new Map<JobFactKey, FindingId[]>();
  for (const finding of usedFindings) {
    for (const fact of factsBehind(finding)) map.set(fact, [...(map.get(fact) ?? []), finding]);
  }
  return map;
})();

const findingsIn = (labels: readonly Label[], facts: JobFacts): ReadonlyMap<FindingId, FindingValue> => {
  const found = new Map<FindingId, FindingValue>(labels.map((label) => [`said ${label}`, true]));
  for (const fact of Object.keys(facts) as JobFactKey[]) {
    for (const finding of findingsOfFact.get(fact) ?? []) {
      if (found.has(finding)) continue;
      const value = findingOf(finding, facts);
      if (value !== undefined) found.set(finding, value);
    }
  }
  return found;
};

type IndexedRule = { readonly cause: number; readonly place: number; readonly rule: EvidenceRule };
const rulesOfFinding: ReadonlyMap<FindingId, readonly IndexedRule[]> = (() => {
  const map = new Map<FindingId, IndexedRule[]>();
  CATALOGUE.forEach(({ evidence }, cause) => {
    evidence.forEach((rule, place) => {
      map.set(rule.finding, [...(map.get(rule.finding) ?? []), { cause, place, rule }]);
    });
  });
  return map;
})();

/** What the findings say of each cause, in the order of the catalogue, so that the order of facts does not matter. */
const evidenceOfAll = (
  found: ReadonlyMap<FindingId, FindingValue>,
): ReadonlyMap<number, readonly Contribution[]> => {
  const spoken: (IndexedRule & { readonly value: FindingValue })[] = [];
  for (const [finding, value] of found) {
    for (const indexed of rulesOfFinding.get(finding) ?? []) {
      if (passes(indexed.rule.test, value) && alsoHolds(indexed.rule, found))
        spoken.push({ ...indexed, value });
    }
  }
  spoken.sort((a, b) => a.cause - b.cause || a.place - b.place);
  const byCause = new Map<number, Contribution[]>();
  for (const { cause, rule, value } of spoken) {
    const { finding, group, times, source } = rule;
    const contribution = { finding, value, group, timesAlone: times, times, source };
    const all = byCause.get(cause);
    if (all) all.push(contribution);
    else byCause.set(cause, [contribution]);
  }
  return byCause;
};

const alsoHolds = ({ also }: EvidenceRule, found: ReadonlyMap<FindingId, FindingValue>): boolean =>
  (also ?? []).every(({ finding, test }) => {
    const value = found.get(finding);
    return value !== undefined && passes(test, value);
  });

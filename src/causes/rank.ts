import type { Label } from '../replies/types.ts';
import { CATALOGUE } from './catalogue/index.ts';
import { LABELS_SAY } from './catalogue/labels.ts';
import type { Cause, Condition, EvidenceRule, FactGroup, Test } from './catalogue/types.ts';
import { type FindingId, type FindingValue, factsBehind, findingOf } from './findings.ts';
import type { JobFactKey, JobFacts } from './jobFacts.ts';

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
  const told = placed(labels, facts);
  const heard = complaintOf(told);
  const found = findingsIn(told, slidesOutOfPlace(told) ? { slips: true, ...facts } : facts);
  const evidence = evidenceOfAll(found);
  return CATALOGUE.map((cause, index) => {
    const contributions = weighted([...complaintContributions(heard, index), ...(evidence.get(index) ?? [])]);
    const weight = startingWeights[cause.id] ?? cause.startingWeight;
    const logOdds = contributions.reduce((sum, c) => sum + Math.log(c.times), Math.log(weight));
    return { cause, contributions, logOdds };
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
const BESIDE_A_STRONGER = 0.25;
/** A complaint that a cause does not explain, beside one that it does: two troubles are possible. */
const LEFT_UNEXPLAINED = 0.8;

const unknownCause = CATALOGUE.length - 1;
const wholeWeight = CATALOGUE.reduce((sum, cause) => sum + cause.startingWeight, 0);

const withFloor = (shares: readonly number[]): readonly number[] => {
  const rest = shares[unknownCause] as number;
  if (rest >= SOMETHING_ELSE_FLOOR) return shares;
  const scale = (1 - SOMETHING_ELSE_FLOOR) / (1 - rest);
  return shares.map((share, i) => (i === unknownCause ? SOMETHING_ELSE_FLOOR : share * scale));
};

/** One label in ten is misheard or misread, and then says nothing of the cause. Common practice, no source. */
const MISHEARD = 0.1;
const heardWrong = (times: number): number => (1 - MISHEARD) * times + MISHEARD;

type LabelTimes = {
  readonly label: Label;
  readonly named: readonly (number | undefined)[];
  readonly unnamed: number;
  readonly source: string;
};

const labelTimes: ReadonlyMap<Label, LabelTimes> = new Map(
  LABELS_SAY.map(({ label, ofHundred, source }) => {
    let namedWeight = 0;
    let namedShare = 0;
    const named = CATALOGUE.map(({ id, startingWeight }) => {
      const share = ofHundred[id];
      if (share === undefined) return undefined;
      namedWeight += startingWeight;
      namedShare += share / 100;
      return heardWrong(share / 100 / (startingWeight / wholeWeight));
    });
    const unnamed = heardWrong(Math.max(0.02, 1 - namedShare) / (1 - namedWeight / wholeWeight));
    return [label, { label, named, unnamed, source }];
  }),
);

/** How it is going, not what is wrong: beside a trouble these speak softly. */
const MOODS: ReadonlySet<Label> = new Set<Label>(['not-wearing', 'wants-money-back', 'getting-there']);

/** A blur whose place was asked for and answered is that blur. */
const placed = (labels: readonly Label[], facts: JobFacts): readonly Label[] => {
  if (!labels.includes('unclear-blur') || typeof facts.zone !== 'string') return labels;
  const zone = facts.zone.toLowerCase();
  const blur: Label | undefined = /dist|far/.test(zone)
    ? 'distance-blur'
    : /arm|inter|middle|screen/.test(zone)
      ? 'intermediate-blur'
      : /near|close|read/.test(zone)
        ? 'near-blur'
        : undefined;
  return blur ? labels.map((label) => (label === 'unclear-blur' ? blur : label)) : labels;
};

/** A frame said to slide, beside sight that is out of place, is a frame that slips. */
const slidesOutOfPlace = (labels: readonly Label[]): boolean =>
  labels.includes('slipping') && labels.some((label) => OUT_OF_PLACE.has(label));
const OUT_OF_PLACE: ReadonlySet<Label> = new Set<Label>([
  'near-too-low',
  'near-blur',
  'intermediate-blur',
  'distance-blur',
]);

type Complaint = { readonly troubles: readonly LabelTimes[]; readonly moods: readonly LabelTimes[] };

const complaintOf = (labels: readonly Label[]): Complaint => {
  const known = [...new Set(labels)]
    .map((label) => labelTimes.get(label))
    .filter((times) => times !== undefined)
    .sort((a, b) => (a.label < b.label ? -1 : 1));
  const troubles = known.filter(({ label }) => !MOODS.has(label));
  const moods = known.filter(({ label }) => MOODS.has(label));
  // A blur with no place told adds nothing beside a blur whose place is told.
  const placed = troubles.filter(({ label }) => label !== 'unclear-blur');
  return { troubles: placed.length > 0 ? placed : troubles, moods };
};

/** Whether the words told of any trouble or mood that the catalogue can weigh. */
export const saysAnything = (labels: readonly Label[]): boolean =>
  labels.some((label) => labelTimes.has(label));

const complaintContributions = ({ troubles, moods }: Complaint, index: number): readonly Contribution[] => {
  if (index === unknownCause) return [];
  const explained = troubles.some(({ named }) => (named[index] ?? 0) > 1);
  const spoken = troubles.map(({ label, named, unnamed, source }) => {
    const own = named[index] ?? unnamed;
    return { label, times: explained ? Math.max(own, LEFT_UNEXPLAINED) : own, source };
  });
  const softly = moods.map(({ label, named, unnamed, source }) => {
    const own = named[index] ?? unnamed;
    return { label, times: troubles.length > 0 ? own ** BESIDE_A_STRONGER : own, source };
  });
  return [...spoken, ...softly].map(({ label, times, source }) => ({
    finding: 'reply_labels',
    value: label,
    group: 'complaint',
    timesAlone: times,
    times,
    source,
  }));
};

/** Within a group of facts the strongest counts fully, each other a quarter; ties go to the one that speaks for. */
const weighted = (contributions: readonly Contribution[]): readonly Contribution[] => {
  const strongest = new Map<FactGroup, Contribution>();
  for (const c of contributions) {
    const best = strongest.get(c.group);
    if (!best || stronger(c, best)) strongest.set(c.group, c);
  }
  return contributions.map((c) =>
    strongest.get(c.group) === c ? c : { ...c, times: c.timesAlone ** BESIDE_A_STRONGER },
  );
};

const stronger = (a: Contribution, b: Contribution): boolean => {
  const [strengthA, strengthB] = [Math.abs(Math.log(a.timesAlone)), Math.abs(Math.log(b.timesAlone))];
  return strengthA === strengthB ? a.timesAlone > b.timesAlone : strengthA > strengthB;
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

/** Readings in hundredths stand for eighths and halves: a limit is not missed by the last digit. */
const EPSILON = 1e-6;
const patterns = new Map<string, RegExp>();

const passes = (test: Test, value: FindingValue): boolean => {
  if ('is' in test) return value === test.is;
  if ('matches' in test) {
    let pattern = patterns.get(test.matches);
    if (!pattern) {
      pattern = new RegExp(test.matches);
      patterns.set(test.matches, pattern);
    }
    return pattern.test(String(value));
  }
  if (typeof value !== 'number') return false;
  if ('from' in test)
    return value >= test.from - EPSILON && (test.below === undefined || value < test.below - EPSILON);
  return value < test.below - EPSILON;
};

/** Whether a condition of the catalogue holds for these facts; an unknown fact holds nothing. */
export const holds = ({ finding, test }: Condition, facts: JobFacts): boolean => {
  const value = findingOf(finding, facts);
  return value !== undefined && passes(test, value);
};

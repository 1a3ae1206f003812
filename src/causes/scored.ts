import type { Label } from '../replies/types.ts';
import { CATALOGUE } from './catalogue/index.ts';
import type { Act } from './catalogue/types.ts';
import { type Complaint, complaintOf, placedByAnswer, withWhatIsSaid } from './complaint.ts';
import { type Contribution, weightedByGroup } from './contribution.ts';
import { type FindingValue, findingOf } from './findings.ts';
import type { JobFactKey, JobFacts } from './jobFacts.ts';
import { mayTrulyBe, measuredWithError } from './measureError.ts';
import {
  ACT_RULES,
  allHold,
  causesTouchedBy,
  type Found,
  findingsTouchedBy,
  noFindings,
  placeOfSaid,
  RULE_PLACES,
  RULES,
  USED_FINDINGS,
} from './ruleIndex.ts';

/** Starting weights by cause id, where a shop's own outcomes have moved them. */
export type StartingWeights = Readonly<Record<string, number>>;

/** Everything that was weighed of a job, by the places of the catalogue, so that one more answer can be added to it. */
export type Scored = {
  readonly labels: readonly Label[];
  readonly facts: JobFacts;
  readonly startingWeights: StartingWeights;
  readonly heard: Complaint;
  readonly found: Found;
  readonly mayBe: MayBeFound;
  readonly contributions: readonly (readonly Contribution[])[];
  readonly logOdds: readonly number[];
  /** The acts that can cure each cause, best first, as far as the facts allow them. */
  readonly acts: readonly (readonly Act[])[];
};

/** What a finding may truly be, where it rests on a number with an error. */
type MayBeFound = ReadonlyMap<number, Spread>;
type Spread = readonly { readonly weight: number; readonly value: FindingValue | undefined }[];

/** The log odds of each cause, with what moved it, in the order of the catalogue. */
export const scoreCauses = (
  labels: readonly Label[],
  facts: JobFacts,
  startingWeights: StartingWeights = {},
): Scored => {
  const placed = placedByAnswer(labels, facts);
  const heard = complaintOf(placed);
  const whole = withWhatIsSaid(placed, facts);
  const found = findingsIn(placed, whole);
  const mayBe = mayBeFoundIn(whole);
  const contributions = CATALOGUE.map((_, cause) => contributionsOf(cause, heard, found, mayBe));
  const logOdds = contributions.map((moved, cause) => logOddsOf(cause, moved, startingWeights));
  const acts = CATALOGUE.map((_, cause) => actsFor(cause, found));
  return { labels, facts, startingWeights, heard, found, mayBe, contributions, logOdds, acts };
};

/**
 * The same as scoring the job anew with the facts of one answer added, at the cost of what the answer touches: only the
 * findings that rest on its facts are made again, and only the causes that have a rule or an act on a finding that changed.
 */
export const scoredWith = (before: Scored, told: JobFacts): Scored => {
  const facts = { ...before.facts, ...told };
  const placed = placedByAnswer(before.labels, facts);
  // A blur whose place is told now is another complaint, and an error spreads over much: everything is weighed anew.
  if (placed !== placedByAnswer(before.labels, before.facts) || before.mayBe.size > 0)
    return scoreCauses(before.labels, facts, before.startingWeights);
  const whole = withWhatIsSaid(placed, facts);
  const found = before.found.slice();
  const changed: number[] = [];
  for (const place of findingsTouchedBy(Object.keys(told) as JobFactKey[])) {
    const value = findingOf(USED_FINDINGS[place] as (typeof USED_FINDINGS)[number], whole);
    if (value === found[place]) continue;
    found[place] = value;
    changed.push(place);
  }
  const contributions = before.contributions.slice();
  const logOdds = before.logOdds.slice();
  const acts = before.acts.slice();
  for (const cause of causesTouchedBy(changed)) {
    const moved = contributionsOf(cause, before.heard, found, before.mayBe);
    contributions[cause] = moved;
    logOdds[cause] = logOddsOf(cause, moved, before.startingWeights);
    acts[cause] = actsFor(cause, found);
  }
  return { ...before, facts, found, contributions, logOdds, acts };
};

const findingsIn = (labels: readonly Label[], facts: JobFacts): Found => {
  const found = noFindings();
  for (const label of labels) {
    const place = placeOfSaid(label);
    if (place !== undefined) found[place] = true;
  }
  for (const place of findingsTouchedBy(Object.keys(facts) as JobFactKey[]))
    found[place] = findingOf(USED_FINDINGS[place] as (typeof USED_FINDINGS)[number], facts);
  return found;
};

/** What was said of a cause, and what was found: the groups of the one never hold the other. */
const contributionsOf = (
  cause: number,
  heard: Complaint,
  found: Found,
  mayBe: MayBeFound,
): readonly Contribution[] => {
  const said = heard[cause] as readonly Contribution[];
  const places = RULE_PLACES[cause] as Int32Array;
  let measured: Contribution[] | undefined;
  let spoken: Set<string> | undefined;
  for (let at = 0; at < places.length; at += 1) {
    const place = places[at] as number;
    const value = found[place];
    if (value === undefined) continue;
    const rule = (RULES[cause] as (typeof RULES)[number])[at] as (typeof RULES)[number][number];
    if (!allHold(rule.also, found)) continue;
    const { finding, group, source } = rule;
    const spread = mayBe.size === 0 ? undefined : mayBe.get(place);
    if (!spread) {
      if (!rule.passes(value)) continue;
      measured ??= [];
      measured.push({ finding, value, group, timesAlone: rule.times, times: rule.times, source });
      continue;
    }
    // The bands of one number speak once together: it lies in one of them.
    const band = `${place} ${group}`;
    spoken ??= new Set();
    if (spoken.has(band)) continue;
    spoken.add(band);
    const times = meanTimes(
      (RULES[cause] as (typeof RULES)[number]).filter(
        (one) => one.place === place && one.group === group && allHold(one.also, found),
      ),
      spread,
    );
    if (Math.abs(times - 1) <= 1e-9) continue;
    measured ??= [];
    measured.push({ finding, value, group, timesAlone: times, times, source });
  }
  return measured === undefined ? said : [...said, ...weightedByGroup(measured)];
};

/** What the bands of a number with an error are worth: the mean over what it may truly be. */
const meanTimes = (bands: (typeof RULES)[number], spread: Spread): number =>
  spread.reduce((sum, { weight, value }) => {
    const holds = value === undefined ? undefined : bands.find(({ passes }) => passes(value));
    return sum + weight * (holds?.times ?? 1);
  }, 0);

const mayBeFoundIn = (facts: JobFacts): MayBeFound => {
  const mayBe = new Map<number, Spread>();
  for (const key of measuredWithError(facts)) {
    const jobs = mayTrulyBe(key, facts);
    for (const place of findingsTouchedBy([key])) {
      const finding = USED_FINDINGS[place] as (typeof USED_FINDINGS)[number];
      mayBe.set(
        place,
        jobs.map(({ weight, facts: maybe }) => ({ weight, value: findingOf(finding, maybe) })),
      );
    }
  }
  return mayBe;
};

const actsFor = (cause: number, found: Found): readonly Act[] => {
  const { always, acts } = ACT_RULES[cause] as (typeof ACT_RULES)[number];
  return always ?? [...new Set(acts.filter(({ when }) => allHold(when, found)).map(({ act }) => act))];
};

const logOddsOf = (cause: number, moved: readonly Contribution[], own: StartingWeights): number => {
  const { id, startingWeight } = CATALOGUE[cause] as (typeof CATALOGUE)[number];
  let odds = own[id] ?? startingWeight;
  for (const { times } of moved) odds *= times;
  return Math.log(odds);
};

import type { Label } from '../replies/types.ts';
import { CATALOGUE } from './catalogue/index.ts';
import type { Act, Condition, FactGroup } from './catalogue/types.ts';
import { testOf } from './conditions.ts';
import { type FindingId, type FindingValue, factsBehind } from './findings.ts';
import type { JobFactKey } from './jobFacts.ts';

/** Every finding that a rule or the condition of an act asks for, each at its place. */
export const USED_FINDINGS: readonly FindingId[] = [
  ...new Set(
    CATALOGUE.flatMap(({ evidence, acts }) => [
      ...evidence.flatMap((rule) => [rule.finding, ...(rule.also ?? []).map((also) => also.finding)]),
      ...acts.flatMap(({ when }) => (when ?? []).map(({ finding }) => finding)),
    ]),
  ),
];
const placeOf: ReadonlyMap<FindingId, number> = new Map(USED_FINDINGS.map((id, place) => [id, place]));

/** What was found of a job, by the place of the finding; what is not known is absent. */
export type Found = (FindingValue | undefined)[];
export const noFindings = (): Found => USED_FINDINGS.map(() => undefined);

/** The place of "this label was said", where any rule asks for it. */
export const placeOfSaid = (label: Label): number | undefined => placeOf.get(`said ${label}`);

type PlacedTest = { readonly place: number; readonly passes: (value: FindingValue) => boolean };
type PlacedRule = PlacedTest & {
  readonly also: readonly PlacedTest[];
  readonly finding: FindingId;
  readonly times: number;
  readonly group: FactGroup;
  readonly source: string;
};

const placed = ({ finding, test }: Condition): PlacedTest => ({
  place: placeOf.get(finding) as number,
  passes: testOf(test),
});

/** Whether every one of these tests holds; what is not known holds nothing. */
export const allHold = (tests: readonly PlacedTest[], found: Found): boolean => {
  for (const { place, passes } of tests) {
    const value = found[place];
    if (value === undefined || !passes(value)) return false;
  }
  return true;
};

/** The rules of each cause, in the order of the catalogue. */
export const RULES: readonly (readonly PlacedRule[])[] = CATALOGUE.map(({ evidence }) =>
  evidence.map(({ finding, test, also, times, group, source }) => ({
    ...placed({ finding, test }),
    also: (also ?? []).map(placed),
    finding,
    times,
    group,
    source,
  })),
);

/** The places of the findings that the rules of each cause ask for, rule by rule. */
export const RULE_PLACES: readonly Int32Array[] = RULES.map((rules) =>
  Int32Array.from(rules, ({ place }) => place),
);

/** The acts of each cause with their conditions; where they hang on nothing, the acts themselves. */
export const ACT_RULES: readonly {
  readonly always?: readonly Act[];
  readonly acts: readonly { readonly act: Act; readonly when: readonly PlacedTest[] }[];
}[] = CATALOGUE.map(({ acts }) => ({
  ...(acts.every(({ when }) => !when) ? { always: [...new Set(acts.map(({ act }) => act))] } : {}),
  acts: acts.map(({ act, when }) => ({ act, when: (when ?? []).map(placed) })),
}));

const findingsOfFact: ReadonlyMap<JobFactKey, readonly number[]> = (() => {
  const map = new Map<JobFactKey, number[]>();
  USED_FINDINGS.forEach((finding, place) => {
    for (const fact of factsBehind(finding)) map.set(fact, [...(map.get(fact) ?? []), place]);
  });
  return map;
})();

/** The places of the findings that rest on any of these facts, each once. */
export const findingsTouchedBy = (facts: readonly JobFactKey[]): Iterable<number> => {
  if (facts.length === 1) return findingsOfFact.get(facts[0] as JobFactKey) ?? [];
  const touched = new Set<number>();
  for (const fact of facts) for (const place of findingsOfFact.get(fact) ?? []) touched.add(place);
  return touched;
};

const causesOfFinding: readonly ReadonlySet<number>[] = USED_FINDINGS.map(
  (_, place) =>
    new Set(
      RULES.flatMap((rules, cause) =>
        rules.some((rule) => rule.place === place || rule.also.some((also) => also.place === place)) ||
        (ACT_RULES[cause]?.acts ?? []).some(({ when }) => when.some((one) => one.place === place))
          ? [cause]
          : [],
      ),
    ),
);

/** The causes that have a rule, or an act with a condition, on any of these findings, each once. */
export const causesTouchedBy = (findings: readonly number[]): Iterable<number> => {
  if (findings.length === 1) return causesOfFinding[findings[0] as number] ?? [];
  const touched = new Set<number>();
  for (const place of findings) for (const cause of causesOfFinding[place] ?? []) touched.add(cause);
  return touched;
};

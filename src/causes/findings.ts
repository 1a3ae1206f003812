import type { Label } from '../replies/types.ts';
import { ADDITION } from './findings/addition.ts';
import { ANSWERS } from './findings/answers.ts';
import { CLOSE_AND_TILT } from './findings/closeAndTilt.ts';
import { HEIGHT } from './findings/height.ts';
import { MADE_AND_ORDER } from './findings/madeAndOrder.ts';
import { OUT_OF_LIMITS } from './findings/outOfLimits.ts';
import { PRESCRIPTION } from './findings/prescription.ts';
import { PRISM_IMAGE_MATERIAL } from './findings/prismImageMaterial.ts';
import type { Finding, FindingValue } from './findings/reading.ts';
import { SIDEWAYS } from './findings/sideways.ts';
import { FACT_KEYS, type FactValue, type JobFactKey, type JobFacts } from './jobFacts.ts';

export type { FindingValue } from './findings/reading.ts';

/** Numbers and answers that are made out of one or more job facts before a cause is weighed. */
const DERIVED = {
  ...HEIGHT,
  ...SIDEWAYS,
  ...CLOSE_AND_TILT,
  ...MADE_AND_ORDER,
  ...PRESCRIPTION,
  ...ADDITION,
  ...PRISM_IMAGE_MATERIAL,
  ...OUT_OF_LIMITS,
  ...ANSWERS,
};

type DerivedId = keyof typeof DERIVED;
/** What was said counts as a finding too, where a number matters only beside a certain complaint. */
type SaidId = `said ${Label}`;
export type FindingId = DerivedId | JobFactKey | SaidId;
const derived: Readonly<Record<string, Finding>> = DERIVED;

/** The value of a finding for these facts; absent when a fact that it needs is unknown. */
export const findingOf = (id: FindingId, facts: JobFacts): FindingValue | undefined => {
  const made = derived[id];
  if (made) return made.of(facts);
  const value = facts[id as JobFactKey];
  return typeof value === 'string' ? value.toLowerCase() : plain(value);
};

const plain = (value: FactValue | undefined): FindingValue | undefined =>
  typeof value === 'object' ? undefined : value;

/** The job fact that names a finding: its own key, or the first of those it rests on that is known. */
export const factBehind = (id: FindingId, facts: JobFacts): JobFactKey => {
  const made = derived[id];
  if (!made) return id as JobFactKey;
  return made.facts.find((key) => facts[key] !== undefined) ?? (made.facts[0] as JobFactKey);
};

/** Every job fact that a finding rests on. */
export const factsBehind = (id: FindingId): readonly JobFactKey[] => derived[id]?.facts ?? [id as JobFactKey];

/** The finding in words: "lower cross 2.1 mm below the pupil". */
export const findingWords = (id: FindingId, value: FindingValue): string => {
  const made = derived[id];
  if (made) return made.words(value);
  const said = FACT_KEYS[id as JobFactKey].words;
  if (value === true) return said;
  if (value === false) return `not so: ${said}`;
  return `${said}: ${value}`;
};

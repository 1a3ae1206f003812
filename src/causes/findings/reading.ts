import type { LensKind, Standard } from '../../optics/limit.ts';
import type { BothEyes, FactPower, JobFactKey, JobFacts } from '../jobFacts.ts';
import { strongestMeridian } from '../opticsOfFacts.ts';

export type FindingValue = number | boolean | string;
export type Finding = {
  /** The facts that it rests on; the first names it. All are needed unless the function says otherwise. */
  readonly facts: readonly JobFactKey[];
  readonly of: (facts: JobFacts) => FindingValue | undefined;
  readonly words: (value: FindingValue) => string;
};

export const num = (facts: JobFacts, key: JobFactKey): number | undefined => {
  const value = facts[key];
  return typeof value === 'number' ? value : undefined;
};
export const words = (facts: JobFacts, key: JobFactKey): string | undefined => {
  const value = facts[key];
  return typeof value === 'string' ? value.toLowerCase() : undefined;
};
const power = (facts: JobFacts, key: JobFactKey): FactPower | undefined => {
  const value = facts[key];
  return Array.isArray(value) ? (value as FactPower) : undefined;
};
export const both = (facts: JobFacts, key: JobFactKey): BothEyes | undefined => {
  const value = facts[key];
  return typeof value === 'object' && !Array.isArray(value) ? (value as BothEyes) : undefined;
};
export const eachEye = (facts: JobFacts, key: JobFactKey): readonly number[] => {
  const value = both(facts, key);
  return value ? [value.R, value.L].filter((v) => v !== undefined) : [];
};
export const highest = (values: readonly number[]): number | undefined =>
  values.length > 0 ? Math.max(...values) : undefined;
export const lowest = (values: readonly number[]): number | undefined =>
  values.length > 0 ? Math.min(...values) : undefined;
export const farthest = (values: readonly number[]): number | undefined =>
  values.length > 0 ? values.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a)) : undefined;
export const between = (values: readonly number[]): number | undefined =>
  values.length === 2 ? Math.abs((values[0] as number) - (values[1] as number)) : undefined;
export const minus = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined || b === undefined ? undefined : a - b;

export const mm = (v: FindingValue): string => `${Math.abs(v as number).toFixed(1)} mm`;
export const d = (v: FindingValue): string => `${Math.abs(v as number).toFixed(2)} D`;
export const deg = (v: FindingValue): string => `${Math.abs(v as number).toFixed(0)} degrees`;
export const pd = (v: FindingValue): string => `${Math.abs(v as number).toFixed(2)} prism dioptres`;
export const sign = (v: FindingValue, over: string, under: string): string =>
  (v as number) >= 0 ? over : under;

export const EYES = ['R', 'L'] as const;
export type Eye = (typeof EYES)[number];
export type PowerSet = 'rx' | 'prev' | 'read' | 'order';
export const powerOf = (facts: JobFacts, set: PowerSet, eye: Eye): FactPower | undefined =>
  power(facts, `${set}_${eye}`);

export const lensKind = (facts: JobFacts): LensKind => {
  const type = words(facts, 'lens_type');
  if (type === undefined || /progress|varifocal|(^|[^a-z])multifocal/.test(type)) return 'progressive';
  return /bifocal|trifocal/.test(type) ? 'multifocal' : 'single vision';
};
/** What the lab was asked; a shop that keeps no separate order asked for the prescription. */
export const asked = (facts: JobFacts, eye: Eye): FactPower | undefined =>
  powerOf(facts, 'order', eye) ?? powerOf(facts, 'rx', eye);

export const overEyes = <T>(of: (eye: Eye) => T | undefined): readonly T[] =>
  EYES.map(of).filter((v): v is T => v !== undefined);

/** True when one eye is so; that no eye is so can be said only when both are known. */
export const anyEye = <T>(eyes: readonly T[], isSo: (eye: T) => boolean): boolean | undefined => {
  if (eyes.some(isSo)) return true;
  return eyes.length === 2 ? false : undefined;
};
/** The largest of both eyes; of one known eye only where it is already large, since the other may be. */
export const largestKnown = (values: readonly number[], large: number): number | undefined => {
  const most = highest(values);
  return most === undefined || (values.length < 2 && most < large) ? undefined : most;
};

export const wornPowers = (facts: JobFacts): readonly FactPower[] =>
  overEyes((eye) => powerOf(facts, 'rx', eye) ?? powerOf(facts, 'order', eye));
/** The addition prescribed; where it was not kept, the one ordered or read. */
export const addOf = (facts: JobFacts): readonly number[] =>
  (['add_D', 'order_add_D', 'read_add_D'] as const)
    .map((key) => eachEye(facts, key))
    .find((all) => all.length > 0) ?? [];
export const strongestPower = (facts: JobFacts): number | undefined =>
  farthest(wornPowers(facts).map(strongestMeridian));
export const pairOfPowers = (facts: JobFacts): readonly [FactPower, FactPower] | undefined => {
  const powers = wornPowers(facts);
  return powers.length === 2 ? [powers[0] as FactPower, powers[1] as FactPower] : undefined;
};

export const anyText =
  (...keys: readonly JobFactKey[]) =>
  (facts: JobFacts): string | undefined => {
    const told = keys.map((key) => words(facts, key)).filter((v) => v !== undefined);
    return told.length > 0 ? told.join('; ') : undefined;
  };

export const said = (pattern: RegExp, ...keys: readonly JobFactKey[]) => {
  const told = anyText(...keys);
  return (facts: JobFacts): boolean | undefined => {
    const text = told(facts);
    return text === undefined ? undefined : pattern.test(text);
  };
};

/** Numbers and answers that are made out of one or more job facts before a cause is weighed. */
export type Findings = Readonly<Record<string, Finding>>;
export const absolute = (value: number | undefined): number | undefined =>
  value === undefined ? undefined : Math.abs(value);

/** Several findings ask for the same of one job: it is worked out once. Facts are never changed in place. */
export const oncePerJob = <T>(of: (facts: JobFacts) => T): ((facts: JobFacts) => T) => {
  const known = new WeakMap<JobFacts, { readonly value: T }>();
  return (facts) => {
    const before = known.get(facts);
    if (before) return before.value;
    const value = of(facts);
    known.set(facts, { value });
    return value;
  };
};

/** The standard that the shop goes by; ANSI Z80.1 where nobody said. */
export const standardOf = (facts: JobFacts): Standard =>
  facts.limits_by === 'ISO 21987' ? 'ISO 21987' : 'ANSI Z80.1';

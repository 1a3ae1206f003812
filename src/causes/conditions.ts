import type { Condition, Test } from './catalogue/types.ts';
import { type FindingValue, findingOf } from './findings.ts';
import type { JobFacts } from './jobFacts.ts';

/** Whether a condition of the catalogue holds for these facts; an unknown fact holds nothing. */
export const holds = ({ finding, test }: Condition, facts: JobFacts): boolean => {
  const value = findingOf(finding, facts);
  return value !== undefined && readyTest(test)(value);
};

/** A test made ready to be put to many values. A limit is not missed by the last digit of a decimal number. */
export const testOf = (test: Test): ((value: FindingValue) => boolean) => {
  if ('is' in test) {
    const { is } = test;
    return (value) => value === is;
  }
  if ('matches' in test) {
    const pattern = new RegExp(test.matches);
    return (value) => pattern.test(String(value));
  }
  const from = 'from' in test ? test.from - EPSILON : Number.NEGATIVE_INFINITY;
  const below = test.below === undefined ? Number.POSITIVE_INFINITY : test.below - EPSILON;
  return (value) => typeof value === 'number' && value >= from && value < below;
};

const EPSILON = 1e-6;
const ready = new WeakMap<Test, (value: FindingValue) => boolean>();
const readyTest = (test: Test): ((value: FindingValue) => boolean) => {
  const known = ready.get(test);
  if (known) return known;
  const made = testOf(test);
  ready.set(test, made);
  return made;
};

import type { Condition, Test } from './catalogue/types.ts';
import { type FindingValue, findingOf } from './findings.ts';
import type { JobFacts } from './jobFacts.ts';

/** Whether a condition of the catalogue holds for these facts; an unknown fact holds nothing. */
export const holds = ({ finding, test }: Condition, facts: JobFacts): boolean => {
  const value = findingOf(finding, facts);
  return value !== undefined && passes(test, value);
};

/** Whether a value passes a test. A limit is not missed by the last digit of a decimal number. */
export const passes = (test: Test, value: FindingValue): boolean => {
  if ('is' in test) return value === test.is;
  if ('matches' in test) return patternOf(test.matches).test(String(value));
  if (typeof value !== 'number') return false;
  if ('from' in test)
    return value >= test.from - EPSILON && (test.below === undefined || value < test.below - EPSILON);
  return value < test.below - EPSILON;
};

const EPSILON = 1e-6;
const patterns = new Map<string, RegExp>();
const patternOf = (source: string): RegExp => {
  const pattern = patterns.get(source) ?? new RegExp(source);
  patterns.set(source, pattern);
  return pattern;
};

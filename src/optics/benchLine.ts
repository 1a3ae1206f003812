import type { BenchLine } from './benchJob.ts';
import { isWithin, type Limit } from './limit.ts';

/** A line that was judged: margin left is allowed minus the size of the error, never below 0 on a pass. */
export const compared = (line: {
  readonly quantity: string;
  readonly eye: BenchLine['eye'];
  readonly comparedWith: 'as-worn' | 'order' | 'layout';
  readonly expected: number;
  readonly found: number;
  /** Where it is not found minus expected: the axis, which runs round a circle. */
  readonly error?: number;
  readonly limit: Limit;
  readonly readAt: string;
  /** Overrides the limit's own verdict where a second limit lets the line through. */
  readonly passesAnyway?: string;
}): BenchLine => {
  const error = line.error ?? line.found - line.expected;
  const inLimit = isWithin(error, line.limit);
  const within = inLimit || line.passesAnyway !== undefined;
  const left = line.limit.limit - Math.abs(error);
  return {
    quantity: line.quantity,
    eye: line.eye,
    comparedWith: line.comparedWith,
    expected: tidy(line.expected),
    found: tidy(line.found),
    error: tidy(error),
    allowed: tidy(line.limit.limit),
    unit: line.limit.unit,
    marginLeft: tidy(within ? Math.max(0, left) : left),
    verdict: within ? 'pass' : 'out',
    reason: inLimit ? null : (line.passesAnyway ?? null),
    readAt: line.readAt,
    source: line.limit.source,
    caution: line.limit.caution ?? null,
  };
};

/** A line that could not be judged, and why. */
export const cannotJudge = (line: {
  readonly quantity: string;
  readonly eye: BenchLine['eye'];
  readonly unit: BenchLine['unit'];
  readonly found: number | null;
  readonly readAt: string;
  readonly reason: string;
}): BenchLine => ({
  ...line,
  found: line.found === null ? null : tidy(line.found),
  comparedWith: null,
  expected: null,
  error: null,
  allowed: null,
  marginLeft: null,
  verdict: 'cannot-judge',
  source: null,
  caution: null,
});

/** Ten-thousandths: below what any instrument shows, above the noise of binary fractions. */
const tidy = (value: number): number => Math.round(value * 1e4) / 1e4 + 0;

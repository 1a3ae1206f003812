import type { JobFactKey } from '../causes/jobFacts.ts';
import { ERROR_OF } from '../causes/measureError.ts';
import type { FactRow } from '../store/jobs.ts';

/**
 * Usual error (one standard deviation, mm) of a height or PD that was not measured on the face by the shop: dots on tape and a
 * ruler at home, or a straight-on photograph with the frame as its scale. Common practice, no source.
 */
export const USUAL_ERROR_MM = { wearer: 1.5, photo: 1 } as const;
export type MeasuredFrom = keyof typeof USUAL_ERROR_MM;

/** The errors of the numbers that stand, as job facts: the newest number of each eye says where it is from. */
export function usualErrors(
  rows: readonly Pick<FactRow, 'key' | 'eye' | 'source'>[],
): Record<string, number> {
  const errors: Record<string, number> = {};
  for (const [key, errorKey] of Object.entries(ERROR_OF) as [JobFactKey, JobFactKey][]) {
    const newest = new Map(rows.filter((row) => row.key === key).map((row) => [row.eye, row.source]));
    const largest = Math.max(0, ...[...newest.values()].map((source) => errorOf(source) ?? 0));
    if (largest > 0) errors[errorKey] = largest;
  }
  return errors;
}

/** The usual error of a number of this key and source, mm; undefined where none is told. */
export const usualErrorOf = (key: string, source: string): number | undefined =>
  key in ERROR_OF || key === 'pupil_height_mm' ? errorOf(source) : undefined;

const errorOf = (source: string): number | undefined => USUAL_ERROR_MM[source as MeasuredFrom];

import type { BothEyes, JobFactKey, JobFacts } from './jobFacts.ts';

/** Facts that may have been measured at a distance, each with the fact that says its usual error. */
export const ERROR_OF = {
  cross_above_pupil_mm: 'cross_above_pupil_error_mm',
  wearer_pd_mm: 'wearer_pd_error_mm',
} as const satisfies Partial<Record<JobFactKey, JobFactKey>>;
type Measured = keyof typeof ERROR_OF;

/** A job as it may truly be, with its weight among the others; the weights sum to one. */
export type MayBe = { readonly weight: number; readonly facts: JobFacts };

/**
 * What a number with an error may truly be: as measured (weight 1/3), and both eyes up, both down, one up and one down
 * by e = 1.22 x error (1/6 each). The five points keep mean, spread of each eye and their independence (third-degree
 * rule for a normal error; e squared x 4/6 = error squared). Error is one standard deviation, mm.
 */
export const mayTrulyBe = (key: Measured, facts: JobFacts): readonly MayBe[] => {
  const error = facts[ERROR_OF[key]];
  const value = facts[key] as BothEyes | undefined;
  if (typeof error !== 'number' || error <= 0 || value === undefined) return [];
  const e = error * Math.sqrt(1.5);
  const moved = (right: number, left: number, weight: number): MayBe => ({
    weight,
    facts: {
      ...facts,
      [key]: {
        ...(value.R === undefined ? {} : { R: value.R + right }),
        ...(value.L === undefined ? {} : { L: value.L + left }),
      },
    },
  });
  return [
    moved(0, 0, 1 / 3),
    moved(e, e, 1 / 6),
    moved(-e, -e, 1 / 6),
    moved(e, -e, 1 / 6),
    moved(-e, e, 1 / 6),
  ];
};

/** The facts of a job that carry an error. */
export const measuredWithError = (facts: JobFacts): readonly Measured[] =>
  (Object.keys(ERROR_OF) as Measured[]).filter(
    (key) => facts[key] !== undefined && Number(facts[ERROR_OF[key]] ?? 0) > 0,
  );

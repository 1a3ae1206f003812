import { type CellProblem, type Cells, shortened } from './cells.ts';
import { rowDigest, type ValidJob } from './job.ts';
import { type IntakeOptions, jobFromCells } from './jobFromCells.ts';

export type JobLine = { readonly line: number; readonly job: ValidJob };
export type RefusedLine = { readonly line: number; readonly problems: readonly CellProblem[] };

/** One entry of a file: the line (or count) by which it is told, and its cells. */
export type Entry = { readonly line: number; readonly cells: Cells };

export type Gathered = {
  readonly jobs: readonly JobLine[];
  readonly refused: readonly RefusedLine[];
  /** Lines that say the same job as an earlier line, value for value; they change nothing. */
  readonly sameLines: readonly number[];
  readonly neverMessaged: { readonly noContact: number; readonly noConsent: number };
  /** What was taken in all the same but deserves a look. */
  readonly warnings: readonly { readonly line: number; readonly what: string }[];
};

export type Progress = { readonly done: number; readonly total: number };

const STEP = 500;

/**
 * Jobs from the entries of one file: each valid entry once, every bad one with all its problems. A job number that comes
 * again with other values is refused, with the same values counted as the same. `unit` is "line" or "entry".
 */
export function* gatherJobs(
  entries: readonly Entry[],
  options: IntakeOptions,
  unit: string,
  numbersKept: boolean,
): Generator<Progress, Gathered> {
  const jobs: JobLine[] = [];
  const refused: RefusedLine[] = [];
  const sameLines: number[] = [];
  const warnings: { line: number; what: string }[] = [];
  const seen = new Map<string, { line: number; digest: string }>();
  const neverMessaged = { noContact: 0, noConsent: 0 };
  let done = 0;
  for (const { line, cells } of entries) {
    if (done > 0 && done % STEP === 0) yield { done, total: entries.length };
    done += 1;
    const where = `${unit} ${line}`;
    const reading = jobFromCells(cells, options, where, numbersKept);
    if (!reading.ok) {
      refused.push({ line, problems: reading.problems });
      continue;
    }
    const { job } = reading.value;
    const digest = rowDigest(job);
    const earlier = seen.get(job.jobNumber);
    if (earlier) {
      if (earlier.digest === digest) sameLines.push(line);
      else refused.push({ line, problems: [numberTwice(job, where, `${unit} ${earlier.line}`, cells)] });
      continue;
    }
    seen.set(job.jobNumber, { line, digest });
    jobs.push({ line, job });
    for (const what of reading.value.warnings) warnings.push({ line, what });
    if (job.neverMessaged === 'no contact') neverMessaged.noContact += 1;
    if (job.neverMessaged === 'no consent') neverMessaged.noConsent += 1;
  }
  return { jobs, refused, sameLines, neverMessaged, warnings };
}

/** Runs a reading in steps to its end, without a break. */
export function lastOf<T>(steps: Generator<Progress, T>): T {
  let step = steps.next();
  while (!step.done) step = steps.next();
  return step.value;
}

function numberTwice(job: ValidJob, where: string, earlier: string, cells: Cells): CellProblem {
  const column = cells.get('job_number')?.column ?? 'job number';
  return {
    code: 'job-number-twice',
    what: `Job “${shortened(job.jobNumber)}” stands already in ${earlier}, with other values.`,
    where: `${where}, ${column}`,
    mend: 'Give each job its own number, or leave one of the two.',
    field: 'job_number',
    column,
    found: shortened(job.jobNumber),
    allowed: 'a job number that stands once in the file',
  };
}

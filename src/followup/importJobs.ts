import { decodeText } from '../intake/decodeText.ts';
import { type DryRun, dryRun, type JobHere } from '../intake/dryRun.ts';
import type { ValidJob } from '../intake/job.ts';
import type { IntakeOptions } from '../intake/jobFromCells.ts';
import { type Intake, readCsv } from '../intake/readCsv.ts';
import { readJson } from '../intake/readJson.ts';
import { findShop } from '../store/shops.ts';
import { jobsByKey } from '../store/takeIn.ts';
import { jobsBound } from '../store/toSign.ts';
import { changeJob } from './changeJob.ts';
import { oneSignature } from './orderToSign.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';
import { type TakenJobs, takeJobs } from './takeJobs.ts';

export type DateOrder = 'dmy' | 'mdy' | 'ymd';

export type Imported = {
  readonly intake: Intake;
  readonly tried: DryRun;
  readonly taken: TakenJobs | null;
  /** How many jobs that were here already were changed as asked. */
  readonly changed: number;
  /** Numbers of it wait for the signature of a licensed person. */
  readonly toSign: boolean;
};

export type ImportOptions = {
  readonly take: boolean;
  readonly by: string;
  /** Whose licence counts where numbers must be signed: a person, or null for a program. Left out: nothing waits. */
  readonly personId?: string | null;
  readonly dateOrder?: DateOrder | undefined;
  /** Lines whose jobs are here with other values and should be changed; without it they are left as they are. */
  readonly changeLines?: ReadonlySet<number>;
};

const LOOK_UP = 1000;

/**
 * Reads a file of jobs (CSV or JSON) and says what taking it in would do; with `take`, takes the good lines in. Bad lines
 * never keep good ones out, jobs that are here with other values are left as they are unless asked for, and the same file
 * twice changes nothing.
 */
export async function importJobs(
  shell: Shell,
  shopId: string,
  input: string | Uint8Array,
  options: ImportOptions,
  onProgress: (done: number, of: number) => void = () => {},
): Promise<Imported> {
  const shop = await findShop(shell.db, shopId);
  const intake = readEither(input, {
    country: shop.country,
    invented: shop.kind === 'invented',
    today: localDay(shell.clock.now(), shop.time_zone),
    ...(options.dateOrder ? { dateOrder: options.dateOrder } : {}),
  });
  const tried = dryRun(intake, await jobsHere(shell, shopId, intake));
  if (!options.take) return { intake, tried, taken: null, changed: 0, toSign: false };
  const jobs = intake.jobs.map((line) => line.job);
  const { by, personId } = options;
  const signature =
    personId === undefined ? undefined : oneSignature('file', { personId, name: by }, shell.clock.now());
  const told = (done: number) => onProgress(done, jobs.length);
  const taken = await takeJobs(shell, shopId, jobs, by, told, signature);
  let changed = 0;
  for (const line of tried.changed) {
    if (!options.changeLines?.has(line.line)) continue;
    if (await changeJob(shell, shopId, line.job, by, signature)) changed += 1;
  }
  const toSign = signature !== undefined && (await jobsBound(shell.db, shopId, signature.id)) > 0;
  return { intake, tried, taken, changed, toSign };
}

/** A text that begins like JSON is read as such, anything else as a CSV table. */
function readEither(input: string | Uint8Array, options: IntakeOptions): Intake {
  const start = typeof input === 'string' ? input.slice(0, 64) : decodeText(input.subarray(0, 64)).text;
  if (!/^[\s\ufeff]*[[{]/.test(start)) return readCsv(input, options);
  const text = typeof input === 'string' ? input : decodeText(input).text;
  const { jobs, refused, notes } = readJson(text, options);
  const { unknownKeys, ...rest } = notes;
  return {
    jobs,
    refused,
    notes: {
      ...rest,
      lines: jobs.length + refused.length,
      encoding: 'text',
      separator: '',
      unknownColumns: unknownKeys,
      missingColumns: [],
    },
  };
}

async function jobsHere(shell: Shell, shopId: string, intake: Intake): Promise<Map<string, JobHere>> {
  const here = new Map<string, JobHere>();
  for (let start = 0; start < intake.jobs.length; start += LOOK_UP) {
    const keys = intake.jobs.slice(start, start + LOOK_UP).map((line) => line.job.jobNumber);
    for (const row of await jobsByKey(shell.db, shopId, keys)) {
      here.set(row.job_key, { digest: row.row_digest, job: row.as_taken as ValidJob });
    }
  }
  return here;
}

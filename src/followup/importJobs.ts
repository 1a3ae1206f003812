import { type DryRun, dryRun, type JobHere } from '../intake/dryRun.ts';
import type { ValidJob } from '../intake/job.ts';
import { type Intake, readCsv } from '../intake/readCsv.ts';
import { findShop } from '../store/shops.ts';
import { jobsByKey } from '../store/takeIn.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';
import { type TakenJobs, takeJobs } from './takeJobs.ts';

export type DateOrder = 'dmy' | 'mdy' | 'ymd';

export type Imported = { readonly intake: Intake; readonly tried: DryRun; readonly taken: TakenJobs | null };

const LOOK_UP = 1000;

/**
 * Reads a file of jobs and says what taking it in would do; with `take`, takes the good lines in. Bad lines never keep good
 * ones out, jobs that are here with other values are left as they are, and the same file twice changes nothing.
 */
export async function importJobs(
  shell: Shell,
  shopId: string,
  input: string | Uint8Array,
  options: { readonly take: boolean; readonly by: string; readonly dateOrder?: DateOrder | undefined },
  onProgress: (done: number, of: number) => void = () => {},
): Promise<Imported> {
  const shop = await findShop(shell.db, shopId);
  const intake = readCsv(input, {
    country: shop.country,
    invented: shop.kind === 'invented',
    today: localDay(shell.clock.now(), shop.time_zone),
    ...(options.dateOrder ? { dateOrder: options.dateOrder } : {}),
  });
  const tried = dryRun(intake, await jobsHere(shell, shopId, intake));
  if (!options.take) return { intake, tried, taken: null };
  const jobs = intake.jobs.map((line) => line.job);
  const taken = await takeJobs(shell, shopId, jobs, options.by, (done) => onProgress(done, jobs.length));
  return { intake, tried, taken };
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

import { readDay } from '../intake/days.ts';
import { bad, type Checked, good } from '../problems.ts';
import type { Job } from '../store/jobs.ts';

export type JobDay =
  | 'ordered_on'
  | 'lab_invoiced_on'
  | 'received_on'
  | 'posted_on'
  | 'handed_over_on'
  | 'arrived_on'
  | 'first_worn_on';

export type JobDays = Readonly<Partial<Record<JobDay, string | null>>>;

/** Days of which the first cannot come after the second. The lab's invoice may come before or after everything else. */
const SEQUENCE: readonly (readonly [JobDay, JobDay])[] = [
  ['ordered_on', 'received_on'],
  ['ordered_on', 'posted_on'],
  ['ordered_on', 'handed_over_on'],
  ['received_on', 'posted_on'],
  ['received_on', 'handed_over_on'],
  ['posted_on', 'arrived_on'],
  ['handed_over_on', 'first_worn_on'],
  ['arrived_on', 'first_worn_on'],
];

export const DAY_NAMES: Readonly<Record<JobDay, string>> = {
  ordered_on: 'ordered',
  lab_invoiced_on: 'invoiced by the lab',
  received_on: 'received',
  posted_on: 'posted',
  handed_over_on: 'handed over',
  arrived_on: 'arrived',
  first_worn_on: 'first worn',
};

export const daysOfJob = (job: Job): JobDays => ({
  ordered_on: job.ordered_on,
  lab_invoiced_on: job.lab_invoiced_on,
  received_on: job.received_on,
  posted_on: job.posted_on,
  handed_over_on: job.handed_over_on,
  arrived_on: job.arrived_on,
});

/**
 * Reads a day of a job (year first) and holds it against the days that are known: nothing lies in the future, nothing is
 * received before it was ordered. `field` is the name of the form's field, for the trouble.
 */
export function readJobDay(
  days: JobDays,
  which: JobDay,
  typed: string,
  field: string,
  today: string,
): Checked<string> {
  const refuse = (code: string, what: string, mend: string) => bad({ code, what, where: field, mend });
  if (typed.trim() === '') return refuse('day-missing', 'The day is missing.', 'Give the day.');
  const read = readDay(typed, 'ymd', today);
  if (!read.ok) return refuse(read.refusal.code, read.refusal.what, read.refusal.mend);
  const day = read.value;
  for (const [earlier, later] of SEQUENCE) {
    const before = later === which ? days[earlier] : undefined;
    const after = earlier === which ? days[later] : undefined;
    if (before && day < before) {
      return refuse(
        'days-out-of-order',
        `${day} is before the day “${DAY_NAMES[earlier]}”, ${before}.`,
        'Mend the one that is wrong.',
      );
    }
    if (after && day > after) {
      return refuse(
        'days-out-of-order',
        `${day} is after the day “${DAY_NAMES[later]}”, ${after}.`,
        'Mend the one that is wrong.',
      );
    }
  }
  return good(day);
}

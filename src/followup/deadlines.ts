import type { Job, Pair } from '../store/jobs.ts';
import type { LabTerm, ShopSettings } from '../store/tables.ts';
import { addDays, daysBetween } from './planSlots.ts';

/** Days in which something has to happen; common practice, no source, until the shop or the lab's terms say otherwise. */
export const USUAL_LAB_WINDOW: { readonly days: number; readonly from: LabTerm['from'] } = {
  days: 60,
  from: 'lab invoiced',
};
export const USUAL_PROMISE_DAYS = 30;

export type Deadline = {
  readonly whose: 'lab' | 'promise';
  readonly lastDay: string;
  readonly daysLeft: number;
  readonly days: number;
  readonly from: LabTerm['from'] | 'first worn';
  readonly start: string;
  /** The start is not on record: counted from the earliest date that is. */
  readonly atWorst: boolean;
};

/**
 * The lab's remake window and our own promise to the wearer, each with its start event. Unknown start: counted from the
 * earliest date on record, marked "at worst". Days are calendar days; 0 left is the last day.
 */
export function deadlinesOf(
  job: Pick<Job, 'ordered_on' | 'lab_invoiced_on' | 'received_on' | 'posted_on' | 'handed_over_on'>,
  pair: Pick<Pair, 'first_worn_on' | 'handed_over_on'>,
  settings: ShopSettings,
  labTerms: readonly LabTerm[],
  today: string,
): readonly Deadline[] {
  const { days, from, start, atWorst } = labWindow(job, pair, settings, labTerms);
  const promise = settings.promiseDays ?? USUAL_PROMISE_DAYS;
  const lab = deadline('lab', start, days, from, atWorst, today);
  const ours = deadline('promise', pair.first_worn_on, promise, 'first worn', false, today);
  return [lab, ours].sort((a, b) => a.daysLeft - b.daysLeft);
}

/** From when the lab's window counts and how long it is. */
export function labWindow(
  job: Pick<Job, 'ordered_on' | 'lab_invoiced_on' | 'received_on' | 'posted_on' | 'handed_over_on'>,
  pair: Pick<Pair, 'handed_over_on'>,
  settings: ShopSettings,
  labTerms: readonly LabTerm[],
): Pick<Deadline, 'days' | 'start' | 'atWorst'> & { readonly from: LabTerm['from'] } {
  const term = labTerms.find((one) => one.what === 'settling') ?? settings.labWindow ?? USUAL_LAB_WINDOW;
  const known = [
    job.ordered_on,
    job.lab_invoiced_on,
    job.received_on,
    job.posted_on,
    job.handed_over_on,
    pair.handed_over_on,
  ];
  const earliest = known.filter((day): day is string => day !== null).sort()[0] ?? pair.handed_over_on;
  const starts: Record<LabTerm['from'], string | null> = {
    'lab invoiced': job.lab_invoiced_on,
    ordered: job.ordered_on,
    'handed over': job.handed_over_on ?? pair.handed_over_on,
  };
  const start = starts[term.from];
  return { days: term.days, from: term.from, start: start ?? earliest, atWorst: start === null };
}

function deadline(
  whose: Deadline['whose'],
  start: string,
  days: number,
  from: Deadline['from'],
  atWorst: boolean,
  today: string,
): Deadline {
  const lastDay = addDays(start, days);
  return { whose, lastDay, daysLeft: daysBetween(today, lastDay), days, from, start, atWorst };
}

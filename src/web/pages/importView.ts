import type { BadLine, DeliveryImportView, DryRun } from '../../../dashboard/delivery-import/view.ts';
import { NOT_FROM_A_FILE } from '../../followup/changeJob.ts';
import type { Imported } from '../../followup/importJobs.ts';
import type { ValidJob } from '../../intake/job.ts';
import { quantityOf } from '../../intake/quantities.ts';
import { shortDay } from '../format.ts';
import { pairWords } from './views.ts';

const SAMPLE = 5;
/** So many places to mend are shown; a file with more has one fault in all its lines. */
const BAD_SHOWN = 500;
const CHANGES_SHOWN = 200;

const TEMPLATES: DeliveryImportView['templates'] = [
  { words: 'Template with the eight columns that are enough', href: '/deliveries/template.csv' },
  { words: 'Template with every column', href: '/deliveries/template-full.csv' },
];

export const emptyImport: DeliveryImportView = {
  record: null,
  templates: TEMPLATES,
  dryRun: null,
  taken: null,
  unreadable: null,
};

export type FileGiven = { readonly name: string; readonly text: string; readonly dateOrder: string };

/** What taking a file in would do, as it is told before anything is done. */
export function dryRunView(done: Imported, file: FileGiven): DeliveryImportView {
  const whole = unreadableWords(done);
  if (whole !== null) return { ...emptyImport, unreadable: whole };
  const { tried, intake } = done;
  const bad = badLines(done);
  const said = [
    ...(bad.length > BAD_SHOWN
      ? [`${bad.length} places are to be mended; the first ${BAD_SHOWN} are shown.`]
      : []),
    ...(tried.changed.length > CHANGES_SHOWN
      ? [`${tried.changed.length} jobs would change; the first ${CHANGES_SHOWN} are shown.`]
      : []),
    ...(intake.notes.unknownColumns.length > 0
      ? [`Columns that are not known are left aside: ${intake.notes.unknownColumns.join(', ')}.`]
      : []),
  ];
  const dryRun: DryRun = {
    fileName: file.name,
    newCount: tried.fresh.length,
    sameCount: tried.same.length,
    changes: tried.changed.slice(0, CHANGES_SHOWN).map(({ line, job, changes }) => ({
      line,
      jobNumber: job.jobNumber,
      changes: changes.map(({ field, from, to }) => ({
        name: NOT_TAKEN.has(field) ? `${field} (not from a file: mend it by hand)` : field,
        was: from,
        would: to,
      })),
    })),
    silentCount: tried.fresh.filter(({ job }) => job.neverMessaged !== undefined).length,
    bad: bad.slice(0, BAD_SHOWN),
    text: file.text,
    dateOrder: file.dateOrder,
    sample: tried.fresh.slice(0, SAMPLE).map(({ line, job }) => ({ line, words: jobWords(job) })),
  };
  return { ...emptyImport, dryRun, unreadable: said.length > 0 ? said.join(' ') : null };
}

/** What became of a file that was taken in. */
export function takenView(done: Imported): DeliveryImportView {
  return {
    ...emptyImport,
    taken: {
      newCount: done.taken?.taken ?? 0,
      changedCount: done.changed,
      sameCount: done.tried.same.length,
      badCount: done.intake.refused.length,
      toSign: done.toSign,
    },
  };
}

/** Labels of what a file may not change, as the dry run names them. */
const NOT_TAKEN: ReadonlySet<string> = new Set(
  [...NOT_FROM_A_FILE].map((key) => quantityOf(key)?.label ?? key),
);

const WHOLE_FILE = new Set(['heads-missing', 'column-missing', 'column-twice']);

function unreadableWords(done: Imported): string | null {
  const { jobs, refused } = done.intake;
  if (jobs.length > 0) return null;
  if (refused.length === 0)
    return 'There is no line in it beside the heading. Give a file with a line for each job.';
  const problems = refused.flatMap((line) => line.problems).filter(({ code }) => WHOLE_FILE.has(code));
  if (problems.length === 0) return null;
  return problems
    .map(({ what, mend, found }) => `${what} ${mend}${found ? ` Found: ${found}.` : ''}`)
    .join(' ');
}

const badLines = (done: Imported): BadLine[] =>
  done.intake.refused.flatMap(({ line, problems }) =>
    problems.map(({ column, found, allowed, what, mend }) => ({
      line,
      column: column.replace(/^column /, ''),
      found,
      allowed,
      mend: `${what} ${mend}`,
    })),
  );

function jobWords(job: ValidJob): string {
  const { wearer, dates } = job;
  const reached = [wearer.phoneE164, wearer.email].filter((one) => one !== undefined).join(', ');
  const parts = [
    `job ${job.jobNumber}`,
    wearer.name,
    reached === '' ? 'no number and no address' : reached,
    pairWords(job.lensDesign, job.firstMultifocal ?? null),
    dates.handedOverOn ? `handed over ${shortDay(dates.handedOverOn)}` : 'not handed over yet',
    job.consent.channels.length > 0
      ? `may be written to by ${job.consent.channels.join(' and ')}`
      : 'has not agreed',
    job.facts.length > 0 ? `${job.facts.length} numbers` : '',
  ];
  return parts.filter((part) => part !== '').join('; ');
}

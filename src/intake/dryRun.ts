import type { CellProblem } from './cells.ts';
import type { JobLine, RefusedLine } from './gatherJobs.ts';
import { type Fact, rowDigest, type ValidJob } from './job.ts';
import { quantityOf } from './quantities.ts';

/** What is already there of a job: its digest, and the job as it was taken in. */
export type JobHere = { readonly digest: string; readonly job: ValidJob };

/** One field that would change. An empty text stands for nothing written. */
type FieldChange = { readonly field: string; readonly from: string; readonly to: string };

export type DryRun = {
  readonly fresh: readonly JobLine[];
  readonly same: readonly JobLine[];
  /** Jobs that are there with other values: nothing is changed unless asked for. */
  readonly changed: readonly (JobLine & { readonly changes: readonly FieldChange[] })[];
  readonly refused: readonly { readonly line: number; readonly problems: readonly CellProblem[] }[];
};

/** What taking these jobs in would do, without doing it: new, same, would change and how, refused and why. */
export function dryRun(
  intake: { readonly jobs: readonly JobLine[]; readonly refused: readonly RefusedLine[] },
  here: ReadonlyMap<string, JobHere>,
): DryRun {
  const fresh: JobLine[] = [];
  const same: JobLine[] = [];
  const changed: (JobLine & { changes: FieldChange[] })[] = [];
  for (const entry of intake.jobs) {
    const known = here.get(entry.job.jobNumber);
    if (!known) fresh.push(entry);
    else if (known.digest === rowDigest(entry.job)) same.push(entry);
    else changed.push({ ...entry, changes: changesBetween(known.job, entry.job) });
  }
  return { fresh, same, changed, refused: intake.refused };
}

/** The fields in which two states of a job differ, by their labels, in the order of the newer one. */
function changesBetween(before: ValidJob, after: ValidJob): FieldChange[] {
  const [old, now] = [fieldsOf(before), fieldsOf(after)];
  const names = [...new Set([...now.keys(), ...old.keys()])];
  return names.flatMap((field) => {
    const [from, to] = [old.get(field) ?? '', now.get(field) ?? ''];
    return from === to ? [] : [{ field, from, to }];
  });
}

function fieldsOf(job: ValidJob): Map<string, string> {
  const { wearer, dates } = job;
  const plain: readonly (readonly [string, string | number | boolean | undefined])[] = [
    ['name', wearer.name],
    ['phone', wearer.phoneE164],
    ['email', wearer.email],
    [
      'consent',
      job.consent.given
        ? `given: ${[...job.consent.channels].sort().join(', ') || 'nowhere to write to'}`
        : 'not given',
    ],
    ['prefers', wearer.prefers],
    ['locale', wearer.locale],
    ['zone', wearer.zone],
    ['country', wearer.country],
    ['region', wearer.region],
    ['postcode', wearer.postcode],
    ['birth_year', wearer.birthYear],
    ['way', job.way],
    ['ordered_on', dates.orderedOn],
    ['lab_invoiced_on', dates.labInvoicedOn],
    ['received_on', dates.receivedOn],
    ['posted_on', dates.postedOn],
    ['handed_over_on', dates.handedOverOn],
    ['arrived_on', dates.arrivedOn],
    ['first_worn_on', dates.firstWornOn],
    ['lens_design', job.lensDesign],
    ['first_multifocal', job.firstMultifocal],
    ['lab', job.lab],
    ['sold_by', job.soldBy],
  ];
  const fields = new Map<string, string>();
  for (const [key, value] of plain) if (value !== undefined) fields.set(labelOf(key), shown(value));
  for (const fact of job.facts) {
    const name = [labelOf(fact.key), fact.eye].filter((word) => word !== null).join(' ');
    fields.set(name, factShown(fact));
  }
  return fields;
}

const labelOf = (key: string) => quantityOf(key)?.label ?? key;

const shown = (value: string | number | boolean) =>
  typeof value === 'boolean' ? (value ? 'yes' : 'no') : String(value);

function factShown({ value, unit, how, by }: Fact): string {
  const remarks = [how, by === null ? '' : `by ${by}`].filter((part) => part !== '').join('; ');
  const figure = Array.isArray(value)
    ? powerShown(value as readonly number[])
    : `${shown(value as string)}${unit ? ` ${unit}` : ''}`;
  return remarks === '' ? figure : `${figure} (${remarks})`;
}

function powerShown([sphere = 0, cylinder = 0, axis = 180]: readonly number[]): string {
  const signed = (dioptres: number) => `${dioptres > 0 ? '+' : ''}${dioptres.toFixed(2)}`;
  return cylinder === 0 ? `${signed(sphere)} DS` : `${signed(sphere)} / ${signed(cylinder)} x ${axis}`;
}

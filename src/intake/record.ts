import { bad, type Checked, good } from '../problems.ts';
import { factsOfPrescription, readVisionPrescription } from './fhir.ts';
import type { Fact } from './job.ts';
import { readLensOrder } from './lensOrder.ts';
import { factsOfLensOrder, type LensOrderMeaning } from './lensOrderFacts.ts';

/** A record of one pair that says nothing of who wears it: a prescription (FHIR R4), or lens-order records. */
export type RecordRead = {
  readonly kind: 'prescription' | 'lens order';
  /** The job that the record itself names. */
  readonly jobNumber: string | undefined;
  readonly facts: readonly Fact[];
  /** What deserves a look, or was left aside. */
  readonly warnings: readonly string[];
};

const RECORD_LINE = /^[A-Z][A-Z0-9_]{0,31}=[^=\r\n]*$/;

/** What a file holds, if it is a record of one pair and not a list of jobs. */
export function recordIn(text: string): RecordRead['kind'] | undefined {
  const bare = text.replace(/^\ufeff/, '').trim();
  if (/"resourceType"\s*:/.test(bare.slice(0, 2000)) && /^[[{]/.test(bare)) return 'prescription';
  const lines = bare.split(/\r\n|\r|\n/).filter((line) => line.trim() !== '');
  const fits = lines.filter((line) => RECORD_LINE.test(line.trim())).length;
  return lines.length >= 2 && fits === lines.length ? 'lens order' : undefined;
}

/** Reads such a record. Lens-order records do not say themselves whether their powers are ordered, as worn or read. */
export function readRecord(text: string, meaning: LensOrderMeaning): Checked<RecordRead> {
  return recordIn(text) === 'prescription' ? readPrescription(text) : readOrder(text, meaning);
}

function readPrescription(text: string): Checked<RecordRead> {
  let written: unknown;
  try {
    written = JSON.parse(text.replace(/^\ufeff/, ''));
  } catch {
    return bad({
      code: 'fhir-not-json',
      what: 'This is not whole JSON.',
      where: 'file',
      mend: 'Export the prescription again.',
    });
  }
  const found = prescriptionsIn(written);
  if (found.length !== 1) {
    return bad({
      code: 'fhir-not-one',
      what: `There are ${found.length} prescriptions in it.`,
      where: 'file',
      mend: 'Give a file with the one that the pair is made from.',
    });
  }
  const reading = readVisionPrescription(found[0]);
  if (!reading.ok) return reading;
  if (!reading.value.spectacles.ok) return reading.value.spectacles;
  const { warnings } = reading.value;
  return good({
    kind: 'prescription',
    jobNumber: undefined,
    facts: factsOfPrescription(reading.value),
    warnings,
  });
}

/** The resource itself, or those of a Bundle. */
function prescriptionsIn(written: unknown): unknown[] {
  if (typeof written !== 'object' || written === null) return [written];
  const { resourceType, entry } = written as { resourceType?: unknown; entry?: unknown };
  if (resourceType !== 'Bundle') return [written];
  return (Array.isArray(entry) ? entry : [])
    .map((one: { resource?: { resourceType?: unknown } } | null) => one?.resource)
    .filter((resource) => resource?.resourceType === 'VisionPrescription');
}

function readOrder(text: string, meaning: LensOrderMeaning): Checked<RecordRead> {
  const reading = readLensOrder(text);
  if (!reading.ok) return reading;
  const { job, unknown } = reading.value;
  return good({
    kind: 'lens order',
    jobNumber: job,
    facts: factsOfLensOrder(
      reading.value,
      meaning,
      `lens-order records${job === undefined ? '' : ` of job ${job}`}`,
    ),
    warnings:
      unknown.length === 0
        ? []
        : [`Records that are not known are left aside: ${unknown.map(({ label }) => label).join(', ')}.`],
  });
}

import { createHash } from 'node:crypto';

export type Eye = 'R' | 'L';
export type ContactChannel = 'text' | 'email';
export type FactSource = 'order' | 'lab form' | 'lensmeter' | 'hand-over' | 'wearer' | 'photo';

/** A lens power in minus-cylinder form: [sphere D, cylinder D (0 or less), axis degrees (0 < axis <= 180)]. */
export type PowerTriple = readonly [sphereD: number, cylinderD: number, axisDeg: number];

export type FactValue = number | string | boolean | PowerTriple;

/** One thing known of a job: what, how much, of which eye, how it was found, by whom, and where it stood. */
export type Fact = {
  /** A key of quantities.ts. */
  readonly key: string;
  readonly value: FactValue;
  readonly unit: string | null;
  readonly eye: Eye | null;
  /** How it was measured, or what was done to it on the way in ("one PD split equally"). Empty: as written. */
  readonly how: string;
  /** Who measured it, where that is written. */
  readonly by: string | null;
  readonly source: FactSource;
  /** Where it stood: "line 12", "form", "FHIR VisionPrescription 33123". */
  readonly from: string;
};

/** Calendar days as YYYY-MM-DD. Each is another event and starts another clock: none stands in for another. */
export type JobDates = {
  readonly orderedOn?: string;
  readonly labInvoicedOn?: string;
  readonly receivedOn?: string;
  readonly postedOn?: string;
  readonly handedOverOn?: string;
  readonly arrivedOn?: string;
  readonly firstWornOn?: string;
};

export type JobWearer = {
  readonly name: string;
  readonly phoneE164?: string;
  readonly email?: string;
  readonly prefers: 'text' | 'email' | 'phone';
  readonly locale: string;
  /** IANA zone as written in a column of its own. Without it: zoneSet(country, region, postcode). */
  readonly zone?: string;
  /** ISO 3166-1 alpha-2. */
  readonly country?: string;
  readonly region?: string;
  readonly postcode?: string;
  readonly birthYear?: number;
};

export type JobConsent = {
  readonly given: boolean;
  /** The channels that the wearer agreed to and that this job has a usable contact for. */
  readonly channels: readonly ContactChannel[];
  /** What the consent rests on, in words: where it stood and what was written there. */
  readonly basis: string;
};

export type ValidJob = {
  /** The shop's own number; where the shop keeps none, made of wearer, design and date. */
  readonly jobNumber: string;
  readonly wearer: JobWearer;
  readonly consent: JobConsent;
  /** Why this wearer is never messaged, where that is so. The job is taken in all the same. */
  readonly neverMessaged?: 'no contact' | 'no consent';
  readonly way: 'counter' | 'post';
  readonly dates: JobDates;
  readonly lensDesign: string;
  /** Left out where nobody wrote it: unknown is not "no". */
  readonly firstMultifocal?: boolean;
  readonly lab?: string;
  readonly soldBy?: string;
  readonly facts: readonly Fact[];
};

/**
 * A fingerprint of what a job says (SHA-256 of its values in a fixed order), the same however its columns stood and
 * whichever line or file it came from: the same file twice changes nothing.
 */
export function rowDigest(job: ValidJob): string {
  const facts = job.facts.map(({ from: _from, ...said }) => inFixedOrder(said)).sort();
  const consent = { given: job.consent.given, channels: [...job.consent.channels].sort() };
  return createHash('sha256')
    .update(inFixedOrder({ ...job, consent, facts }))
    .digest('hex');
}

function inFixedOrder(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(inFixedOrder).join(',')}]`;
  if (value !== null && typeof value === 'object') {
    const entries = Object.entries(value).filter(([, held]) => held !== undefined);
    entries.sort(([a], [b]) => (a < b ? -1 : 1));
    return `{${entries.map(([key, held]) => `${JSON.stringify(key)}:${inFixedOrder(held)}`).join(',')}}`;
  }
  return JSON.stringify(value);
}

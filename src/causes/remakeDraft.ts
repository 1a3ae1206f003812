import type { Limit, Standard } from '../optics/limit.ts';
import { heightLimits, marksTiltLimit, powerLimits, sidewaysLimit } from '../optics/limits.ts';
import { type Expectation, type EyeToCome, whatToExpect } from '../optics/whatToExpect.ts';
import { causeById } from './catalogue/index.ts';
import type { Bearer } from './catalogue/types.ts';
import type { BothEyes, FactPower, JobFacts } from './jobFacts.ts';
import { lensOf } from './opticsOfFacts.ts';
import { changesFor, type RemakeChange } from './remakeChanges.ts';

export type RemakeDraft = {
  readonly cause: string;
  readonly because: string;
  readonly changes: readonly RemakeChange[];
  /** The job as it would be ordered, with the changes in. */
  readonly changedJob: JobFacts;
  /** Limits that the new pair is checked against, of the changed job. */
  readonly limits: readonly {
    readonly what: string;
    readonly eye: 'R' | 'L' | 'both';
    readonly limit: Limit;
  }[];
  /** What in the changed job still predicts trouble: told at hand-over. */
  readonly expectations: readonly Expectation[];
  readonly bears: Bearer | undefined;
  /** What must be answered before a second remake is sent; empty for a first one. */
  readonly firstAnswer: readonly string[];
  readonly signedBy: 'a licensed person';
  readonly orderNote: string;
};

/**
 * A remake, drafted: what to change from what to what and because of which number, the limits and expectations of the
 * changed job, and a note for the lab. It goes nowhere by itself: a licensed person signs it. Of 242 corrections at
 * rechecks 40 in 100 were themselves unsatisfactory (Beesley, Davey & Elliott 2022), so a second remake asks first. With a new
 * prescription the changes are its own.
 */
export const draftRemake = (
  causeId: string,
  facts: JobFacts,
  remakesBefore = 0,
  standard: Standard = 'ANSI Z80.1',
  newPrescription?: readonly RemakeChange[],
): RemakeDraft => {
  const cause = causeById(causeId);
  const changes = newPrescription ?? changesFor(causeId, facts);
  const what = newPrescription ? 'A new prescription came in.' : (cause?.what ?? causeId);
  const changedJob = withChanges(facts, changes);
  return {
    cause: causeId,
    because: what,
    changes,
    changedJob,
    limits: limitsOf(changedJob, standard),
    expectations: expectationsOf(changedJob),
    bears: newPrescription ? 'prescriber' : cause?.bears,
    firstAnswer: remakesBefore > 0 ? BEFORE_A_SECOND : [],
    signedBy: 'a licensed person',
    orderNote: orderNote(what, changes),
  };
};

const BEFORE_A_SECOND: readonly string[] = [
  'Has the refraction been checked again?',
  'Has someone else checked the pair on the bench?',
];

const withChanges = (facts: JobFacts, changes: readonly RemakeChange[]): JobFacts =>
  Object.assign({}, facts, ...changes.map(({ sets }) => sets ?? {}));

const EYES = ['R', 'L'] as const;
const powerToOrder = (job: JobFacts, eye: 'R' | 'L'): FactPower | undefined =>
  (job[`order_${eye}`] ?? job[`rx_${eye}`]) as FactPower | undefined;
const ofEye = (value: unknown, eye: 'R' | 'L'): number | undefined =>
  typeof value === 'number' ? value : (value as BothEyes | undefined)?.[eye];

const limitsOf = (job: JobFacts, standard: Standard): RemakeDraft['limits'] => {
  const powers = EYES.flatMap((eye) => {
    const power = powerToOrder(job, eye);
    if (!power) return [];
    const { sphere, cylinder, axis } = powerLimits(lensOf(power), 'progressive', standard);
    return [
      { what: 'sphere', eye, limit: sphere },
      { what: 'cylinder', eye, limit: cylinder },
      ...(axis ? [{ what: 'axis', eye, limit: axis }] : []),
    ];
  });
  return [
    ...powers,
    { what: 'height of each cross', eye: 'both', limit: heightLimits('progressive', standard).each },
    { what: 'sideways place of each cross', eye: 'both', limit: sidewaysLimit('progressive', standard) },
    { what: 'tilt of the marks', eye: 'both', limit: marksTiltLimit('progressive', standard) },
  ];
};

const expectationsOf = (job: JobFacts): readonly Expectation[] => {
  const [R, L] = [eyeToCome(job, 'R'), eyeToCome(job, 'L')];
  if (!R || !L) return [];
  const numbers = {
    ageYears: job.age_y,
    minimumHeightMm: job.design_min_height_mm,
    corridorMm: job.corridor_mm,
    readingBelowCentreMm: job.reading_level_mm_below_centre,
  };
  return whatToExpect({ R, L, ...known(numbers) });
};

const eyeToCome = (job: JobFacts, eye: 'R' | 'L'): EyeToCome | undefined => {
  const power = powerToOrder(job, eye);
  if (!power) return undefined;
  const before = job[`prev_${eye}`] as FactPower | undefined;
  const previous = {
    ...(before ? { lens: lensOf(before) } : {}),
    ...known({ addD: ofEye(job.prev_add_D, eye), baseCurveD: ofEye(job.prev_base_curve_D, eye) }),
  };
  return {
    lens: lensOf(power),
    ...known({
      addD: ofEye(job.order_add_D ?? job.add_D, eye),
      fittingHeightMm: ofEye(job.fitting_height_mm, eye),
      vertexMm: ofEye(job.vertex_mm, eye),
      baseCurveD: ofEye(job.base_curve_D, eye),
    }),
    ...(Object.keys(previous).length > 0 ? { previous } : {}),
  };
};

const known = (values: Readonly<Record<string, unknown>>): Record<string, number> =>
  Object.fromEntries(
    Object.entries(values).filter((entry): entry is [string, number] => typeof entry[1] === 'number'),
  );

const orderNote = (what: string, changes: readonly RemakeChange[]): string =>
  [
    'REMAKE, draft: not to be sent before a licensed person has signed it.',
    `Reason: ${what}`,
    ...changes.map(({ what: thing, eye, from, to, because }) => {
      const side = eye === 'both' ? 'both' : eye;
      const step = from === undefined ? `to ${to}` : `from ${from} to ${to}`;
      return `${thing}, ${side}: ${step}, because ${because}.`;
    }),
    'Everything else as in the first order. Confirm at the bench.',
    'Signed: ____________________  Licence: ____________  Date: ____________',
  ].join('\n');

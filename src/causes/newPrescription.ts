import { differenceLens } from '../optics/differenceLens.ts';
import type { BothEyes, FactPower, JobFacts } from './jobFacts.ts';
import { difference, lensOf, powerAlong, readingImbalancePd } from './opticsOfFacts.ts';
import type { RemakeChange } from './remakeChanges.ts';

/** A prescription as it came in. */
export type NewPrescription = {
  readonly R: FactPower;
  readonly L: FactPower;
  readonly addD?: BothEyes;
};

export type EyeDifference = {
  readonly eye: 'R' | 'L';
  /** The prescription that the pair in hand was made from; absent where it is not on record. */
  readonly before?: FactPower;
  readonly after: FactPower;
  /** New less old, as one lens in minus-cylinder form; absent without the old. */
  readonly lens?: FactPower;
  /** Size of the whole change, D, never negative. */
  readonly sizeD?: number;
  readonly addBeforeD?: number;
  readonly addAfterD?: number;
};

export type PrescriptionDifference = {
  readonly eyes: readonly EyeDifference[];
  /** What in the new numbers a licensed person should look at before the job is drafted. */
  readonly remarks: readonly string[];
  readonly changes: readonly RemakeChange[];
};

/** At this age and over a larger change is a fall risk. Source: Elliott 2014, Glenn A. Fry lecture, abstract. */
const OLD_FROM_YEARS = 75;
const LARGE_FOR_THE_OLD_D = 0.75;
const LARGE_FOR_ANYONE_D = 1;
/** A vertical difference that is noticed when reading. Common practice, no source. */
const IMBALANCE_TOLD_PD = 1.5;
/** Of 242 corrections at rechecks 84.4 % were within 0.50 D of what was refused, all within 1.00 D. Source: Freeman & Evans 2010. */
const USUAL_CORRECTION_D = 1;

/**
 * What a new prescription changes: for each eye the difference lens (new less old, by power vectors, thin lenses, exact), its size, and
 * the addition; with what to look at first, and the changes for the new order. It judges no prescription.
 */
export const differenceOf = (next: NewPrescription, facts: JobFacts): PrescriptionDifference => {
  const eyes = (['R', 'L'] as const).map((eye) => ofEye(eye, next, facts));
  return {
    eyes,
    remarks: remarksOf(eyes, next, facts),
    changes: eyes.flatMap((eye) => changesOf(eye, next, facts)),
  };
};

const ofEye = (eye: 'R' | 'L', next: NewPrescription, facts: JobFacts): EyeDifference => {
  const after = next[eye];
  const before = (facts[`rx_${eye}`] ?? facts[`order_${eye}`]) as FactPower | undefined;
  const adds = {
    ...withValue('addBeforeD', ((facts.add_D ?? facts.order_add_D) as BothEyes | undefined)?.[eye]),
    ...withValue('addAfterD', next.addD?.[eye]),
  };
  if (!before) return { eye, after, ...adds };
  const { lens } = differenceLens(lensOf(after), lensOf(before));
  return {
    eye,
    before,
    after,
    lens: [hundredth(lens.sphereD), hundredth(lens.cylinderD), Math.round(lens.axisDeg)],
    sizeD: hundredth(difference(after, before).sizeD),
    ...adds,
  };
};

const withValue = (key: string, value: number | undefined) => (value === undefined ? {} : { [key]: value });
const hundredth = (value: number): number => Math.round(value * 100) / 100 + 0;
const NAMES = { R: 'right', L: 'left' } as const;

const remarksOf = (
  eyes: readonly EyeDifference[],
  next: NewPrescription,
  facts: JobFacts,
): readonly string[] => {
  const remarks: string[] = [];
  const age = typeof facts.age_y === 'number' ? facts.age_y : undefined;
  for (const { eye, before, after, sizeD, addBeforeD, addAfterD } of eyes) {
    const which = NAMES[eye];
    if (sizeD === undefined) {
      remarks.push(
        `The prescription before is not on record for the ${which} eye: no difference can be shown.`,
      );
    } else if (age !== undefined && age >= OLD_FROM_YEARS && sizeD > LARGE_FOR_THE_OLD_D) {
      remarks.push(
        `The ${which} eye changes by ${d(sizeD)} at ${age} years: more than 0.75 D is a fall risk at 75 or over; a person makes the call (Elliott 2014, abstract).`,
      );
    } else if (sizeD > LARGE_FOR_ANYONE_D) {
      remarks.push(
        `The ${which} eye changes by ${d(sizeD)}: in one practice every correction after a refused pair was within ${USUAL_CORRECTION_D}.00 D (Freeman & Evans 2010, abstract). Is it typed as written?`,
      );
    }
    if (sizeD === 0 && (addAfterD === undefined || addBeforeD === undefined || addAfterD === addBeforeD))
      remarks.push(`For the ${which} eye nothing changes.`);
    if (
      before &&
      Math.sign(before[0]) * Math.sign(after[0]) < 0 &&
      Math.abs(after[0]) + Math.abs(before[0]) > 1
    )
      remarks.push(`The sign of the ${which} sphere turns round. Is it typed as written?`);
  }
  const belowMm =
    typeof facts.reading_level_mm_below_centre === 'number' ? facts.reading_level_mm_below_centre : 10;
  const imbalance = readingImbalancePd(next.R, next.L, belowMm);
  if (imbalance >= IMBALANCE_TOLD_PD)
    remarks.push(
      `Right and left differ by ${Math.abs(powerAlong(next.R, 90) - powerAlong(next.L, 90)).toFixed(2)} D along 90: ${imbalance.toFixed(1)} prism dioptres between the eyes ${belowMm} mm down (Prentice). Think of slab-off or a pair for reading.`,
    );
  return remarks;
};

const d = (value: number): string => `${value.toFixed(2)} D`;

const changesOf = (
  { eye, before, after, addBeforeD, addAfterD }: EyeDifference,
  next: NewPrescription,
  facts: JobFacts,
): RemakeChange[] => {
  const because = 'a new prescription came in';
  const power: RemakeChange = {
    what: 'Power',
    eye,
    ...(before ? { from: written(before) } : {}),
    to: written(after),
    because,
    sets: {
      [`rx_${eye}`]: after,
      ...(facts[`order_${eye}`] === undefined ? {} : { [`order_${eye}`]: after }),
    } as JobFacts,
  };
  const same = before !== undefined && written(before) === written(after);
  const add: RemakeChange | undefined =
    addAfterD === undefined || addAfterD === addBeforeD || next.addD === undefined
      ? undefined
      : {
          what: 'Addition',
          eye,
          ...(addBeforeD === undefined ? {} : { from: signed(addBeforeD) }),
          to: signed(addAfterD),
          because,
          sets: {
            add_D: next.addD,
            ...(facts.order_add_D === undefined ? {} : { order_add_D: next.addD }),
          } as JobFacts,
        };
  return [...(same ? [] : [power]), ...(add ? [add] : [])];
};

const signed = (value: number): string => `${value > 0 ? '+' : ''}${value.toFixed(2)} D`;
const written = ([s, c, a]: FactPower): string => (c === 0 ? signed(s) : `${signed(s)} ${signed(c)} x ${a}`);

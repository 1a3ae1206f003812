import { type BenchJob, type BenchLine, isCompensated } from './benchJob.ts';
import { cannotJudge, compared } from './benchLine.ts';
import type { Limit } from './limit.ts';
import { horizontalImbalanceLimit, verticalImbalanceLimit } from './limits.ts';
import { ansiPrismPointLimits, ansiPrismPointWithin } from './limitsAnsi.ts';
import { powerAlongMeridianD } from './meridianPower.ts';
import { powerMatrix } from './powerMatrix.ts';
import { type Prism, prismAtPoint } from './prismAtPoint.ts';
import { imbalance } from './prismSum.ts';
import { readingPlaces } from './readingPlaces.ts';
import type { Eye, SpheroCyl } from './spheroCyl.ts';
import { thinningPrism } from './thinningPrism.ts';

const NONE: Prism = { upPd: 0, inPd: 0 };
const EYES = ['R', 'L'] as const;

/**
 * Prism of each lens at its reference point by ANSI Z80.1: unordered prism within 0.33 pd, or the point within 1.0 mm
 * of its place. Thinning prism, alike on both sides of a progressive, is taken off first: it is no fault. The place is
 * reckoned from prism and power. ISO 21987 is held by the relative prism of the pair alone.
 */
export const prismLines = (job: BenchJob): BenchLine[] => {
  if (job.standard !== 'ANSI Z80.1') return [];
  const errors = bothErrors(job);
  return EYES.map((eye) => prismLine(job, eye, errors));
};

/**
 * Vertical and horizontal imbalance of the pair, unordered part, right minus left and base in added. Where the standard
 * gives millimetres instead (strong powers), prism is turned into millimetres with the weaker lens, the stricter way.
 */
export const pairLines = (job: BenchJob): BenchLine[] => {
  const { R, L } = bothErrors(job);
  const readAt = readingPlaces(job).prism;
  const reason = 'prism was not read on both lenses';
  if (R === null || L === null) {
    return ['vertical imbalance', 'horizontal imbalance'].map((quantity) =>
      cannotJudge({ eye: 'both', quantity, unit: 'pd', found: null, readAt, reason }),
    );
  }
  const { verticalPd, horizontalInPd } = imbalance(R, L);
  const along = (meridianDeg: number) =>
    EYES.map((eye) => powerAlongMeridianD(powerOf(job, eye), meridianDeg)) as [number, number];
  const [right90D, left90D] = along(90);
  const weaker180D = weaker(along(180));
  return [
    pairLine(
      'vertical imbalance',
      verticalPd,
      weaker([right90D, left90D]),
      readAt,
      verticalImbalanceLimit(right90D, left90D, job.standard),
    ),
    pairLine(
      'horizontal imbalance',
      horizontalInPd,
      weaker180D,
      readAt,
      horizontalImbalanceLimit(weaker180D, job.kind, job.standard),
    ),
  ];
};

const pairLine = (
  quantity: string,
  errorPd: number,
  weakerD: number,
  readAt: string,
  limit: Limit,
): BenchLine =>
  compared({
    eye: 'both',
    quantity,
    comparedWith: 'order',
    expected: 0,
    found: limit.unit === 'mm' ? (10 * errorPd) / weakerD : errorPd,
    limit,
    readAt,
  });

type Errors = { readonly R: Prism | null; readonly L: Prism | null };

const prismLine = (job: BenchJob, eye: Eye, errors: Errors): BenchLine => {
  const quantity = 'prism at the reference point';
  const readAt = readingPlaces(job).prism;
  const error = errors[eye];
  if (error === null) {
    const reason = job.read[eye]?.prism ? PRISM_COMPENSATED : 'prism was not read';
    return cannotJudge({ eye, quantity, unit: 'pd', found: null, readAt, reason });
  }
  const sharedUpPd =
    job.kind === 'progressive' && errors.R && errors.L ? thinningPrism(errors.R, errors.L).sharedUpPd : 0;
  const limits = ansiPrismPointLimits();
  const leftOver = { upPd: error.upPd - sharedUpPd, inPd: error.inPd };
  const displacedMm = displacement(powerOf(job, eye), eye, leftOver);
  const foundPd = Math.hypot(leftOver.upPd, leftOver.inPd);
  const passes = ansiPrismPointWithin(foundPd, displacedMm);
  if (!passes && job.kind === 'progressive' && (errors.R === null || errors.L === null)) {
    return cannotJudge({ eye, quantity, unit: 'pd', found: foundPd, readAt, reason: ONE_LENS_ONLY });
  }
  return compared({
    eye,
    quantity,
    comparedWith: 'order',
    expected: 0,
    found: foundPd,
    limit: limits.prism,
    readAt,
    ...(passes && displacedMm !== null
      ? {
          passesAnyway: `point ${displacedMm.toFixed(1)} mm from its place, ${limits.place.limit} mm allowed`,
        }
      : {}),
  });
};

const ONE_LENS_ONLY = 'the other lens was not read: thinning prism cannot be told from a fault';
const PRISM_COMPENSATED = 'prism was ordered and the lab’s as-worn prism is not there';

const bothErrors = (job: BenchJob): Errors => ({ R: prismError(job, 'R'), L: prismError(job, 'L') });

const prismError = (job: BenchJob, eye: Eye): Prism | null => {
  const found = job.read[eye]?.prism;
  if (!found) return job.kind === 'single vision' ? prismFromPlace(job, eye) : null;
  const ordered = job.order[eye].prism ?? NONE;
  const asWorn = job.asWorn?.[eye]?.prism;
  // A lab that compensates also alters ordered prism; with none ordered there is nothing to alter.
  if (!asWorn && isCompensated(job) && (ordered.upPd !== 0 || ordered.inPd !== 0)) return null;
  const wanted = asWorn ?? ordered;
  return { upPd: found.upPd - wanted.upPd, inPd: found.inPd - wanted.inPd };
};

/** A single vision lens whose centre was found, but whose prism was not read: Prentice's rule from its place. */
const prismFromPlace = (job: BenchJob, eye: Eye): Prism | null => {
  const { monocularPdMm, fittingHeightMm } = job.order[eye];
  const read = job.read[eye];
  if (monocularPdMm === undefined || fittingHeightMm === undefined) return null;
  if (read?.monocularPdMm === undefined || read.fittingHeightMm === undefined) return null;
  return prismAtPoint(powerOf(job, eye), eye, {
    aboveMm: fittingHeightMm - read.fittingHeightMm,
    nasalMm: read.monocularPdMm - monocularPdMm,
  });
};

const powerOf = (job: BenchJob, eye: Eye): SpheroCyl => job.asWorn?.[eye]?.lens ?? job.order[eye].lens;

const weaker = ([one, other]: readonly [number, number]): number =>
  Math.abs(one) <= Math.abs(other) ? one : other;

/** How far the centre has moved to give this prism, mm: the power matrix undone. `null` without enough power. */
const displacement = (lens: SpheroCyl, eye: Eye, { upPd, inPd }: Prism): number | null => {
  const { xxD, xyD, yyD } = powerMatrix(lens);
  const determinant = xxD * yyD - xyD * xyD;
  if (Math.abs(determinant) < 1e-6) return null;
  // Nasal is to the observer's right for the right eye only.
  const xPd = eye === 'R' ? inPd : -inPd;
  return 10 * Math.hypot((yyD * xPd - xyD * upPd) / determinant, (xxD * upPd - xyD * xPd) / determinant);
};

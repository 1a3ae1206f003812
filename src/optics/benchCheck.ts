import { bad, type Checked, good } from '../problems.ts';
import {
  type BenchJob,
  type BenchLine,
  type BenchReport,
  type EyeAsWorn,
  type EyeOrder,
  type EyeReading,
  isCompensated,
  type Verdict,
} from './benchJob.ts';
import { cannotJudge, compared } from './benchLine.ts';
import { pairLines, prismLines } from './benchPrism.ts';
import { checkInput, type EyeNumbers } from './checkInput.ts';
import {
  addLimit,
  checkPower,
  heightLimits,
  marksTiltLimit,
  sidewaysLimit,
  thicknessLimit,
} from './limits.ts';
import { ansiBaseCurveLimit } from './limitsAnsi.ts';
import { isoMeridianLimit } from './limitsIso.ts';
import { readingPlaces } from './readingPlaces.ts';
import { type Eye, minusCylinder, type SpheroCyl, strongerMeridianD } from './spheroCyl.ts';

/**
 * Bench check of a finished, mounted pair before it leaves: each reading against the lab's as-worn powers, and against
 * order and layout, by the chosen standard. Dioptres, degrees, mm, prism dioptres; minus cylinder form. Where a
 * compensated lens came without its as-worn powers, its power lines say cannot-judge and never out; so does what was
 * not read. The pair is out if any line is, else cannot-judge if any line is. Limits and their sources: `limitsAnsi`,
 * `limitsIso`. Support for a licensed person, to be confirmed at the bench.
 */
export const benchCheck = (job: BenchJob): Checked<BenchReport> => {
  const problems = inputProblems(job);
  if (problems.length > 0) return bad(...problems);
  const lines = [
    ...eyeLines(job, 'R'),
    ...eyeLines(job, 'L'),
    ...prismLines(job),
    ...heightPairLines(job),
    ...pairLines(job),
  ];
  return good({
    standard: job.standard,
    verdict: wholeVerdict(lines),
    lines,
    cautions: [...new Set(lines.flatMap(({ caution }) => (caution === null ? [] : [caution])))],
  });
};

const eyeLines = (job: BenchJob, eye: Eye): BenchLine[] => {
  const order = job.order[eye];
  const read = job.read[eye] ?? {};
  return [
    ...powerLines(job, eye, order, read),
    ...addLines(job, eye, order, read),
    ...layoutLines(job, eye, order, read),
    ...optionalLines(job, eye, order, read),
  ];
};

const NO_AS_WORN =
  'the lab’s as-worn powers are not there: a compensated lens cannot be held against the order';

const powerLines = (job: BenchJob, eye: Eye, order: EyeOrder, read: EyeReading): BenchLine[] => {
  const asWorn = job.asWorn?.[eye];
  const places = readingPlaces(job);
  const wanted = asWorn?.lens ?? (isCompensated(job) ? null : order.lens);
  const at = { eye, readAt: places.distance } as const;
  if (!read.lens || !wanted) {
    const reason = read.lens ? NO_AS_WORN : 'power was not read';
    const found = read.lens ? minusCylinder(read.lens) : null;
    return [
      cannotJudge({ ...at, quantity: 'sphere', unit: 'D', found: found?.sphereD ?? null, reason }),
      cannotJudge({ ...at, quantity: 'cylinder', unit: 'D', found: found?.cylinderD ?? null, reason }),
      cannotJudge({ ...at, quantity: 'axis', unit: 'deg', found: found?.axisDeg ?? null, reason }),
    ];
  }
  const found = minusCylinder(read.lens);
  const expected = minusCylinder(wanted);
  const with_ = asWorn ? 'as-worn' : 'order';
  const check = checkPower(found, expected, job.kind, job.standard);
  const line = (quantity: string, from: number, to: number, limit = check.sphere.limit) =>
    compared({ ...at, quantity, comparedWith: with_, expected: from, found: to, limit });
  return [
    line('sphere', expected.sphereD, found.sphereD),
    ...(job.standard === 'ISO 21987' ? [acrossAxisLine(line, job, expected, found)] : []),
    line('cylinder', expected.cylinderD, found.cylinderD, check.cylinder.limit),
    ...(check.axis && found.cylinderD !== 0
      ? [
          compared({
            ...at,
            quantity: 'axis',
            comparedWith: with_,
            expected: expected.axisDeg,
            found: found.axisDeg,
            error: check.axis.errorDeg,
            limit: check.axis.limit,
          }),
        ]
      : []),
  ];
};

// The international standard holds each principal meridian to the limit, not the sphere alone.
const acrossAxisLine = (
  line: (quantity: string, from: number, to: number, limit: ReturnType<typeof isoMeridianLimit>) => BenchLine,
  job: BenchJob,
  expected: SpheroCyl,
  found: SpheroCyl,
): BenchLine =>
  line(
    'power across the axis',
    expected.sphereD + expected.cylinderD,
    found.sphereD + found.cylinderD,
    isoMeridianLimit(strongerMeridianD(expected), job.kind),
  );

const addLines = (job: BenchJob, eye: Eye, order: EyeOrder, read: EyeReading): BenchLine[] => {
  const asWorn = job.asWorn?.[eye]?.addD;
  if (order.addD === undefined && asWorn === undefined) return [];
  const at = { eye, quantity: 'add', readAt: readingPlaces(job).add } as const;
  const wanted = asWorn ?? (isCompensated(job) ? undefined : order.addD);
  if (read.addD === undefined || wanted === undefined) {
    const reason = read.addD === undefined ? 'add was not read' : NO_AS_WORN;
    return [cannotJudge({ ...at, unit: 'D', found: read.addD ?? null, reason })];
  }
  return [
    compared({
      ...at,
      comparedWith: asWorn === undefined ? 'order' : 'as-worn',
      expected: wanted,
      found: read.addD,
      limit: addLimit(wanted, job.standard),
    }),
  ];
};

const layoutLines = (job: BenchJob, eye: Eye, order: EyeOrder, read: EyeReading): BenchLine[] => {
  const places = readingPlaces(job);
  const heights = heightLimits(job.kind, job.standard);
  const sideways = sidewaysLimit(job.kind, job.standard);
  const line = (
    quantity: string,
    readAt: string,
    wanted: number | undefined,
    found: number | undefined,
    limit: typeof heights.each,
  ): BenchLine[] => {
    if (wanted === undefined) return [];
    if (found === undefined) {
      return [
        cannotJudge({ eye, quantity, unit: 'mm', found: null, readAt, reason: `${quantity} was not read` }),
      ];
    }
    return [compared({ eye, quantity, comparedWith: 'layout', expected: wanted, found, limit, readAt })];
  };
  // Single vision is held by the imbalance of the pair, not by the place of each centre.
  if (job.kind === 'single vision') return [];
  return [
    ...line('fitting height', places.height, order.fittingHeightMm, read.fittingHeightMm, heights.each),
    ...line('monocular PD', places.pd, order.monocularPdMm, read.monocularPdMm, sideways),
  ];
};

const optionalLines = (job: BenchJob, eye: Eye, order: EyeOrder, read: EyeReading): BenchLine[] => {
  const lines: BenchLine[] = [];
  if (read.marksTiltDeg !== undefined) {
    lines.push(
      compared({
        eye,
        quantity: 'tilt of the marks',
        comparedWith: 'layout',
        expected: 0,
        found: read.marksTiltDeg,
        limit: marksTiltLimit(job.kind, job.standard),
        readAt: 'line of the permanent marks against the line of the frame',
      }),
    );
  }
  if (order.centreThicknessMm !== undefined && read.centreThicknessMm !== undefined) {
    lines.push(
      compared({
        eye,
        quantity: 'centre thickness',
        comparedWith: 'order',
        expected: order.centreThicknessMm,
        found: read.centreThicknessMm,
        limit: thicknessLimit(job.standard),
        readAt: 'prism reference point, square to the front',
      }),
    );
  }
  // No limit for a base curve is known to us in the international standard.
  if (job.standard === 'ANSI Z80.1' && order.baseCurveD !== undefined && read.baseCurveD !== undefined) {
    lines.push(
      compared({
        eye,
        quantity: 'base curve',
        comparedWith: 'order',
        expected: order.baseCurveD,
        found: read.baseCurveD,
        limit: ansiBaseCurveLimit(),
        readAt: 'front surface, lens clock corrected for the index',
      }),
    );
  }
  return lines;
};

const heightPairLines = (job: BenchJob): BenchLine[] => {
  if (job.kind === 'single vision') return [];
  const error = (eye: Eye): number | null => {
    const wanted = job.order[eye].fittingHeightMm;
    const found = job.read[eye]?.fittingHeightMm;
    return wanted === undefined || found === undefined ? null : found - wanted;
  };
  const right = error('R');
  const left = error('L');
  if (right === null || left === null) return [];
  return [
    compared({
      eye: 'both',
      quantity: 'fitting heights against each other',
      comparedWith: 'layout',
      expected: 0,
      found: right - left,
      limit: heightLimits(job.kind, job.standard).pair,
      readAt: readingPlaces(job).height,
    }),
  ];
};

const wholeVerdict = (lines: readonly BenchLine[]): Verdict => {
  if (lines.some(({ verdict }) => verdict === 'out')) return 'out';
  return lines.some(({ verdict }) => verdict === 'cannot-judge') ? 'cannot-judge' : 'pass';
};

const inputProblems = (job: BenchJob) =>
  (
    [
      ['order', job.order],
      ['as-worn', job.asWorn ?? {}],
      ['read', job.read],
    ] as const
  ).flatMap(([where, eyes]) => {
    const checked = checkInput({
      ...(eyes.R ? { R: numbersOf(eyes.R) } : {}),
      ...(eyes.L ? { L: numbersOf(eyes.L) } : {}),
      ...(job.frame ? { frame: job.frame } : {}),
    });
    if (checked.ok) return [];
    // The frame is looked at with each of the three; its own trouble is told once, with the order.
    return checked.problems
      .filter((problem) => where === 'order' || !problem.where.startsWith('frame '))
      .map((problem) => ({ ...problem, where: `${where} ${problem.where}` }));
  });

const numbersOf = ({ lens, prism, ...rest }: EyeOrder | EyeAsWorn | EyeReading): EyeNumbers => ({
  ...rest,
  ...(lens ?? {}),
  ...(prism ? { prismUpPd: prism.upPd, prismInPd: prism.inPd } : {}),
});

import { type BenchJob, type BenchLine, isCompensated } from './benchJob.ts';
import { cannotJudge, compared } from './benchLine.ts';
import { addLimit, checkPower } from './limits.ts';
import { isoMeridianLimit } from './limitsIso.ts';
import { readingPlaces } from './readingPlaces.ts';
import { type Eye, minusCylinder, type SpheroCyl, strongerMeridianD } from './spheroCyl.ts';

/**
 * Sphere, cylinder, axis and add of one eye against its as-worn powers; against the order only where the lens was not
 * compensated. Dioptres, degrees; minus cylinder form. Sources: `checkPower`, `addLimit`.
 */
export const benchPowerLines = (job: BenchJob, eye: Eye): BenchLine[] => [
  ...powerLines(job, eye),
  ...addLines(job, eye),
];

/**
 * Do both lenses read as each other's, and neither as its own? Then they were very likely put in the wrong way round.
 * Source: common practice, no source; limits as for the power lines.
 */
export const readSwapped = (job: BenchJob): boolean => {
  const { R, L } = job.read;
  const right = expectedLens(job, 'R');
  const left = expectedLens(job, 'L');
  if (!R?.lens || !L?.lens || !right || !left) return false;
  const fits = (found: SpheroCyl, wanted: SpheroCyl): boolean =>
    checkPower(found, wanted, job.kind, job.standard).within;
  if (fits(R.lens, right) || fits(L.lens, left)) return false;
  return fits(R.lens, left) && fits(L.lens, right);
};

/** What the lensmeter should show, or `null` where nothing says. */
const expectedLens = (job: BenchJob, eye: Eye): SpheroCyl | null =>
  job.asWorn?.[eye]?.lens ?? (isCompensated(job) ? null : job.order[eye].lens);

const NO_AS_WORN =
  'the lab’s as-worn powers are not there: a compensated lens cannot be held against the order';

const powerLines = (job: BenchJob, eye: Eye): BenchLine[] => {
  const read = job.read[eye] ?? {};
  const asWorn = job.asWorn?.[eye];
  const places = readingPlaces(job);
  const wanted = expectedLens(job, eye);
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
  const reference = asWorn ? 'as-worn' : 'order';
  const check = checkPower(found, expected, job.kind, job.standard);
  const line = (quantity: string, from: number, to: number, limit = check.sphere.limit) =>
    compared({ ...at, quantity, comparedWith: reference, expected: from, found: to, limit });
  return [
    line('sphere', expected.sphereD, found.sphereD),
    ...(job.standard === 'ISO 21987' ? [acrossAxisLine(line, job, expected, found)] : []),
    line('cylinder', expected.cylinderD, found.cylinderD, check.cylinder.limit),
    ...(check.axis && found.cylinderD !== 0
      ? [
          compared({
            ...at,
            quantity: 'axis',
            comparedWith: reference,
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

const addLines = (job: BenchJob, eye: Eye): BenchLine[] => {
  const order = job.order[eye];
  const read = job.read[eye] ?? {};
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

import { z } from 'zod';
import { benchCheck } from '../optics/benchCheck.ts';
import type {
  BenchJob,
  BenchLine,
  BenchReport,
  EyeAsWorn,
  EyeOrder,
  EyeReading,
} from '../optics/benchJob.ts';
import type { Prism } from '../optics/prismAtPoint.ts';
import type { SpheroCyl } from '../optics/spheroCyl.ts';
import type { Problem } from '../problems.ts';

const sphere = z.number().describe('Sphere, dioptres.');
const cylinder = z.number().default(0).describe('Cylinder, dioptres; left out: none.');
const axis = z.number().optional().describe('Axis, degrees 1 to 180; needed where there is a cylinder.');
const others = {
  add_D: z.number().optional().describe('Addition, dioptres.'),
  prism_up_pd: z.number().optional().describe('Prism at the reference point, base up +, prism dioptres.'),
  prism_in_pd: z.number().optional().describe('The same, base in +.'),
};
const power = z.strictObject({ sphere_D: sphere, cylinder_D: cylinder, axis_deg: axis, ...others });
const ordered = power.extend({
  centre_thickness_mm: z.number().optional(),
  base_curve_D: z.number().optional(),
});
const reading = ordered.extend({
  sphere_D: sphere.optional(),
  monocular_pd_mm: z.number().optional().describe('Middle of the bridge to the cross.'),
  fitting_height_mm: z.number().optional().describe('Lowest point of the lens up to the cross.'),
  marks_tilt_deg: z.number().optional().describe('How far the marks are from level.'),
});
const place = z.strictObject({
  monocular_pd_mm: z.number().optional(),
  fitting_height_mm: z.number().optional(),
});
const frame = z.strictObject({
  a_mm: z.number().optional(),
  b_mm: z.number().optional(),
  dbl_mm: z.number().optional(),
});

const jobShape = z.strictObject({
  standard: z.enum(['ANSI Z80.1', 'ISO 21987']),
  kind: z.enum(['single vision', 'multifocal', 'progressive']).default('progressive'),
  compensated: z
    .union([z.boolean(), z.literal('unknown')])
    .default('unknown')
    .describe('Did the lab compensate the powers for the position of wear?'),
  order: z.strictObject({ R: ordered, L: ordered }),
  layout: z.strictObject({ R: place.optional(), L: place.optional(), frame: frame.optional() }).optional(),
  as_worn: z
    .strictObject({ R: power.optional(), L: power.optional() })
    .optional()
    .describe('The lab’s as-worn powers: what the lensmeter should show.'),
  read: z.strictObject({ R: reading.optional(), L: reading.optional() }),
  add_read_on: z.enum(['front', 'back']).optional().describe('The face on the stop when the add is read.'),
});
type GivenJob = z.infer<typeof jobShape>;

/** A job and its readings as they come in from a command or a program. Numbers that cannot be are refused by name and range. */
export const jobToCheck = jobShape.superRefine((given, told) => {
  for (const problem of impossible(given))
    told.addIssue({ code: 'custom', path: [problem.where], message: `${problem.what}. ${problem.mend}` });
});

const nullable = z.number().nullable();
export const checkedJob = z.object({
  standard: z.string(),
  verdict: z.enum(['pass', 'out', 'cannot-judge']),
  lines: z.array(
    z.object({
      quantity: z.string(),
      eye: z.enum(['R', 'L', 'both']),
      compared_with: z.enum(['as-worn', 'order', 'layout']).nullable(),
      expected: nullable,
      found: nullable,
      error: nullable,
      allowed: nullable,
      margin_left: nullable.describe('Allowed less the size of the error; below nought: over by so much.'),
      unit: z.enum(['D', 'deg', 'pd', 'mm']),
      verdict: z.enum(['pass', 'out', 'cannot-judge']),
      reason: z.string().nullable(),
      read_at: z.string().describe('Where the value is to be read.'),
      source: z.string().nullable(),
      caution: z.string().nullable(),
    }),
  ),
  read_swapped: z.boolean().describe('Each lens reads as the other one was ordered.'),
  cautions: z.array(z.string()),
});

/** The bench check of a job that has been read: one line for each quantity. Support for a licensed person. */
export function checkJob(given: GivenJob): z.infer<typeof checkedJob> {
  const done = benchCheck(benchJobOf(given));
  if (!done.ok) throw new Error('a job that was taken in could not be checked');
  const { standard, verdict, lines, readSwapped, cautions } = done.value satisfies BenchReport;
  return {
    standard,
    verdict,
    lines: lines.map(lineOut),
    read_swapped: readSwapped,
    cautions: [...cautions],
  };
}

function lineOut(line: BenchLine): z.infer<typeof checkedJob>['lines'][number] {
  const { comparedWith, marginLeft, readAt, ...same } = line;
  return {
    ...same,
    expected: short(line.expected),
    found: short(line.found),
    error: short(line.error),
    allowed: short(line.allowed),
    compared_with: comparedWith,
    margin_left: short(marginLeft),
    read_at: readAt,
  };
}

/** Sums of decimals leave dust in the sixteenth place; nothing is read finer than a thousandth. */
const short = (value: number | null): number | null =>
  value === null ? null : Math.round(value * 1e4) / 1e4 + 0;

function impossible(given: GivenJob): readonly Problem[] {
  const done = benchCheck(benchJobOf(given));
  return done.ok ? [] : done.problems;
}

function benchJobOf(given: GivenJob): BenchJob {
  const { R, L } = given.order;
  const { as_worn: asWorn = {}, layout = {}, read } = given;
  return {
    kind: given.kind,
    standard: given.standard,
    compensated: given.compensated,
    order: { R: orderOf(R, layout.R), L: orderOf(L, layout.L) },
    asWorn: known({ R: asWorn.R && asWornOf(asWorn.R), L: asWorn.L && asWornOf(asWorn.L) }),
    read: known({ R: read.R && readingOf(read.R), L: read.L && readingOf(read.L) }),
    ...known({
      addReadOn: given.add_read_on,
      frame:
        layout.frame && known({ aMm: layout.frame.a_mm, bMm: layout.frame.b_mm, dblMm: layout.frame.dbl_mm }),
    }),
  };
}

type Power = z.infer<typeof power>;
type Place = z.infer<typeof place>;

const orderOf = (given: z.infer<typeof ordered>, at: Place | undefined): EyeOrder => ({
  lens: lensOf(given),
  ...known({
    addD: given.add_D,
    prism: prismOf(given),
    centreThicknessMm: given.centre_thickness_mm,
    baseCurveD: given.base_curve_D,
    monocularPdMm: at?.monocular_pd_mm,
    fittingHeightMm: at?.fitting_height_mm,
  }),
});

const asWornOf = (given: Power): EyeAsWorn => ({
  lens: lensOf(given),
  ...known({ addD: given.add_D, prism: prismOf(given) }),
});

const readingOf = (given: z.infer<typeof reading>): EyeReading =>
  known({
    lens: given.sphere_D === undefined ? undefined : lensOf({ ...given, sphere_D: given.sphere_D }),
    addD: given.add_D,
    prism: prismOf(given),
    monocularPdMm: given.monocular_pd_mm,
    fittingHeightMm: given.fitting_height_mm,
    marksTiltDeg: given.marks_tilt_deg,
    centreThicknessMm: given.centre_thickness_mm,
    baseCurveD: given.base_curve_D,
  });

/** A cylinder without its axis stays without one, so that it is refused by name. */
const lensOf = ({
  sphere_D,
  cylinder_D,
  axis_deg,
}: Pick<Power, 'sphere_D' | 'cylinder_D' | 'axis_deg'>): SpheroCyl => ({
  sphereD: sphere_D,
  cylinderD: cylinder_D,
  axisDeg: axis_deg ?? (cylinder_D === 0 ? 180 : (undefined as unknown as number)),
});

const prismOf = (given: {
  prism_up_pd?: number | undefined;
  prism_in_pd?: number | undefined;
}): Prism | undefined =>
  given.prism_up_pd === undefined && given.prism_in_pd === undefined
    ? undefined
    : { upPd: given.prism_up_pd ?? 0, inPd: given.prism_in_pd ?? 0 };

type Known<T> = { [Key in keyof T]?: Exclude<T[Key], undefined> };
const known = <T extends object>(values: T): Known<T> =>
  Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Known<T>;

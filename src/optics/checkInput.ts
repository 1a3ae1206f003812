import { bad, type Checked, good, type Problem } from '../problems.ts';
import { asAxis } from './angle.ts';
import type { FrameBox } from './boxGeometry.ts';
import type { Eye } from './spheroCyl.ts';

/** Numbers of one eye as they reach the formulas. What is left out is unknown. */
export type EyeNumbers = { readonly [key in EyeQuantity]?: number };
export type JobNumbers = {
  readonly R?: EyeNumbers;
  readonly L?: EyeNumbers;
  readonly frame?: Partial<FrameBox>;
};

type EyeQuantity = keyof typeof EYE_RANGES;
type Range = { readonly words: string; readonly unit: string; readonly from: number; readonly to: number };

const range = (words: string, unit: string, from: number, to: number): Range => ({ words, unit, from, to });

/** What a lens and a face can be: wide enough to refuse only slips of the pen. Common practice, no source. */
export const EYE_RANGES = {
  sphereD: range('sphere', 'D', -30, 30),
  cylinderD: range('cylinder', 'D', -15, 15),
  axisDeg: range('axis', 'degrees', 0, 180),
  addD: range('add', 'D', 0, 4.5),
  prismUpPd: range('prism base up', 'pd', -20, 20),
  prismInPd: range('prism base in', 'pd', -20, 20),
  monocularPdMm: range('monocular PD', 'mm', 20, 42),
  nearPdMm: range('near monocular PD', 'mm', 18, 42),
  fittingHeightMm: range('fitting height', 'mm', 8, 45),
  vertexMm: range('vertex distance', 'mm', 4, 25),
  tiltDeg: range('pantoscopic tilt', 'degrees', -10, 30),
  wrapDeg: range('wrap', 'degrees', -5, 35),
  baseCurveD: range('base curve', 'D', 0, 14),
  centreThicknessMm: range('centre thickness', 'mm', 0.5, 20),
  index: range('refractive index', '', 1.4, 2),
  abbe: range('V number', '', 20, 95),
  marksTiltDeg: range('tilt of the marks', 'degrees', -45, 45),
} as const;

export const FRAME_RANGES = {
  aMm: range('frame A', 'mm', 30, 75),
  bMm: range('frame B', 'mm', 15, 70),
  dblMm: range('bridge (DBL)', 'mm', 8, 32),
} as const;

/**
 * The edge of this room: every number that cannot be is refused by name with its allowed range, all of them at once.
 * Each must be finite and inside its range; a cylinder needs its axis; a fitting height cannot exceed B; a near PD cannot
 * exceed the distance PD. Axis 0 comes back as 180. Units stand in the names; signs as in `SpheroCyl` and `Prism`.
 */
export const checkInput = (numbers: JobNumbers): Checked<JobNumbers> => {
  const problems: Problem[] = [...outOfRange(numbers.frame ?? {}, FRAME_RANGES, 'frame')];
  for (const eye of ['R', 'L'] as const) {
    const ofEye = numbers[eye];
    if (ofEye) problems.push(...eyeProblems(ofEye, eye, numbers.frame?.bMm));
  }
  if (problems.length > 0) return bad(...problems);
  return good({
    ...numbers,
    ...(numbers.R ? { R: withAxis(numbers.R) } : {}),
    ...(numbers.L ? { L: withAxis(numbers.L) } : {}),
  });
};

const eyeProblems = (ofEye: EyeNumbers, eye: Eye, bMm: number | undefined): Problem[] => {
  const problems = outOfRange(ofEye, EYE_RANGES, eye);
  const { cylinderD, axisDeg, fittingHeightMm, monocularPdMm, nearPdMm } = ofEye;
  if (cylinderD !== undefined && cylinderD !== 0 && axisDeg === undefined) {
    problems.push({
      code: 'axis-missing',
      what: `cylinder ${cylinderD} D has no axis`,
      where: `${eye} axis`,
      mend: 'Give the axis, 1 to 180 degrees.',
    });
  }
  if (fittingHeightMm !== undefined && bMm !== undefined && fittingHeightMm > bMm) {
    problems.push({
      code: 'height-over-b',
      what: `fitting height ${fittingHeightMm} mm is more than the lens is high (B ${bMm} mm)`,
      where: `${eye} fitting height`,
      mend: `Allowed with this frame: ${EYE_RANGES.fittingHeightMm.from} to ${bMm} mm.`,
    });
  }
  if (nearPdMm !== undefined && monocularPdMm !== undefined && nearPdMm > monocularPdMm) {
    problems.push({
      code: 'near-pd-over-pd',
      what: `near PD ${nearPdMm} mm is more than the distance PD ${monocularPdMm} mm`,
      where: `${eye} near monocular PD`,
      mend: `Allowed here: ${EYE_RANGES.nearPdMm.from} to ${monocularPdMm} mm; the two may be swapped.`,
    });
  }
  return problems;
};

const outOfRange = (
  numbers: Readonly<Record<string, number | undefined>>,
  ranges: Readonly<Record<string, Range>>,
  where: string,
): Problem[] => {
  const problems: Problem[] = [];
  for (const [name, value] of Object.entries(numbers)) {
    const allowed = ranges[name];
    if (value === undefined || allowed === undefined) continue;
    if (Number.isFinite(value) && value >= allowed.from && value <= allowed.to) continue;
    const unit = allowed.unit === '' ? '' : ` ${allowed.unit}`;
    problems.push({
      code: Number.isFinite(value) ? 'out-of-range' : 'not-a-number',
      what: `${allowed.words} is ${value}${Number.isFinite(value) ? unit : ''}, which it cannot be`,
      where: `${where} ${allowed.words}`,
      mend: `Allowed: ${allowed.from} to ${allowed.to}${unit}.`,
    });
  }
  return problems;
};

const withAxis = (ofEye: EyeNumbers): EyeNumbers =>
  ofEye.axisDeg === undefined ? ofEye : { ...ofEye, axisDeg: asAxis(ofEye.axisDeg) };

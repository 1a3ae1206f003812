import type { CheckLine } from '../../../dashboard/job/view.ts';
import type { Trace } from '../../../dashboard/pieces/view.ts';
import { lensOf, ofEye } from '../../followup/jobToCome.ts';
import { benchCheck } from '../../optics/benchCheck.ts';
import type {
  BenchJob,
  BenchLine,
  BenchReport,
  EyeAsWorn,
  EyeOrder,
  EyeReading,
} from '../../optics/benchJob.ts';
import type { LensKind, Standard } from '../../optics/limit.ts';
import { type Eye, minusCylinder } from '../../optics/spheroCyl.ts';

export type Checked = {
  readonly lines: readonly CheckLine[];
  /** Why there is no check; empty when there is one. */
  readonly noCheck: string;
  readonly verdict: string;
  readonly cautions: readonly string[];
};

/** The bench check of a job from its gathered facts, or why there can be none yet. */
export function benchCheckOf(facts: Readonly<Record<string, unknown>>, standard: Standard): Checked {
  const none = (noCheck: string): Checked => ({ lines: [], noCheck, verdict: '', cautions: [] });
  const read = { R: readingOf(facts, 'R'), L: readingOf(facts, 'L') };
  if (Object.keys(read.R).length === 0 && Object.keys(read.L).length === 0)
    return none('Nothing of the finished pair has been read yet.');
  const right = orderOf(facts, 'R');
  const left = orderOf(facts, 'L');
  if (!right || !left) {
    const which = right ? 'left' : left ? 'right' : 'right and left';
    return none(
      `Cannot judge: the ordered power of the ${which} lens is not on record, so the readings have nothing to be held against.`,
    );
  }
  const asWorn = { R: asWornOf(facts, 'R'), L: asWornOf(facts, 'L') };
  const job: BenchJob = {
    kind: kindOf(facts.lens_type),
    standard,
    compensated: asWorn.R || asWorn.L || facts.wrap_compensated === true ? true : 'unknown',
    order: { R: right, L: left },
    asWorn: { ...(asWorn.R ? { R: asWorn.R } : {}), ...(asWorn.L ? { L: asWorn.L } : {}) },
    read,
  };
  const done = benchCheck(job);
  if (!done.ok)
    return none(`Cannot judge: ${done.problems.map((one) => `${one.where}: ${one.what}`).join('; ')}.`);
  const report = done.value;
  return {
    lines: report.lines.map((line) => checkLine(line, job)),
    noCheck: '',
    verdict: verdictWords(report),
    cautions: report.cautions,
  };
}

const kindOf = (type: unknown): LensKind =>
  type === 'single-vision' ? 'single vision' : type === 'bifocal' ? 'multifocal' : 'progressive';

type Facts = Readonly<Record<string, unknown>>;

function prismOf(facts: Facts, key: string, eye: Eye): { upPd: number; inPd: number } | undefined {
  const upPd = ofEye(facts[`${key}_up_pd`], eye);
  const inPd = ofEye(facts[`${key}_in_pd`], eye);
  return upPd === undefined && inPd === undefined ? undefined : { upPd: upPd ?? 0, inPd: inPd ?? 0 };
}

function orderOf(facts: Facts, eye: Eye): EyeOrder | undefined {
  const lens = lensOf(facts[`order_${eye}`]) ?? lensOf(facts[`rx_${eye}`]);
  if (!lens) return undefined;
  return {
    lens,
    ...known({
      addD: ofEye(facts.order_add_D, eye) ?? ofEye(facts.add_D, eye),
      prism: prismOf(facts, 'order_prism', eye),
      monocularPdMm: ofEye(facts.wearer_pd_mm, eye),
      fittingHeightMm: ofEye(facts.fitting_height_mm, eye),
    }),
  };
}

function asWornOf(facts: Facts, eye: Eye): EyeAsWorn | undefined {
  const lens = lensOf(facts[`as_worn_${eye}`]);
  if (!lens) return undefined;
  return {
    lens,
    ...known({ addD: ofEye(facts.as_worn_add_D, eye), prism: prismOf(facts, 'as_worn_prism', eye) }),
  };
}

const readingOf = (facts: Facts, eye: Eye): EyeReading =>
  known({
    lens: lensOf(facts[`read_${eye}`]),
    addD: ofEye(facts.read_add_D, eye),
    prism: prismOf(facts, 'read_prism', eye),
    monocularPdMm: ofEye(facts.made_pd_mm, eye),
    fittingHeightMm: ofEye(facts.made_height_mm, eye),
    marksTiltDeg: ofEye(facts.marks_tilt_deg, eye),
  });

type Known<T> = { [Key in keyof T]?: Exclude<T[Key], undefined> };

const known = <T extends object>(values: T): Known<T> =>
  Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Known<T>;

function checkLine(line: BenchLine, job: BenchJob): CheckLine {
  const name = line.eye === 'both' ? line.quantity : `${line.eye} ${line.quantity}`;
  const words = (value: number | null) => (value === null ? '' : figure(value, line.unit, line.quantity));
  const ordered = line.comparedWith === 'as-worn' ? orderedFor(line, job) : line.expected;
  return {
    name,
    ordered: line.comparedWith === null ? words(orderedFor(line, job)) : words(ordered),
    asWorn: line.comparedWith === 'as-worn' ? words(line.expected) : '',
    read: words(line.found),
    allowed:
      line.allowed === null ? (line.reason ?? '') : `±${plain(line.allowed, line.unit)} (${line.readAt})`,
    margin: line.marginLeft === null ? '' : marginWords(line.marginLeft, line.unit),
    verdict: line.verdict === 'cannot-judge' ? 'cannot judge' : line.verdict,
    trace: traceOf(line, words),
  };
}

/** What was ordered where the reading is held against the lab's as-worn powers, or against nothing. */
function orderedFor(line: BenchLine, job: BenchJob): number | null {
  if (line.eye === 'both') return null;
  const order = job.order[line.eye];
  const lens = minusCylinder(order.lens);
  switch (line.quantity) {
    case 'sphere':
      return lens.sphereD;
    case 'power across the axis':
      return lens.sphereD + lens.cylinderD;
    case 'cylinder':
      return lens.cylinderD;
    case 'axis':
      return lens.cylinderD === 0 ? null : lens.axisDeg;
    case 'add':
      return order.addD ?? null;
    default:
      return null;
  }
}

function traceOf(line: BenchLine, words: (value: number | null) => string): Trace | null {
  if (line.allowed === null || line.source === null) return null;
  const against = line.comparedWith === 'as-worn' ? 'the lab’s as-worn power' : `the ${line.comparedWith}`;
  return {
    inputs: [
      { name: 'found', value: words(line.found), from: line.readAt },
      { name: 'should be', value: words(line.expected), from: against },
    ],
    formula:
      `error ${plain(Math.abs(line.error ?? 0), line.unit)}, allowed ${plain(line.allowed, line.unit)}` +
      `${line.reason ? `; ${line.reason}` : ''}${line.caution ? `. ${line.caution}` : ''}`,
    source: line.source,
  };
}

const UNITS: Readonly<Record<BenchLine['unit'], string>> = { D: ' D', deg: '°', pd: ' pd', mm: ' mm' };
const UNSIGNED = new Set(['add', 'axis', 'fitting height', 'monocular PD', 'centre thickness', 'base curve']);

function figure(value: number, unit: BenchLine['unit'], quantity: string): string {
  if (UNSIGNED.has(quantity)) return plain(value, unit);
  const sign = value > 0 ? '+' : value < 0 ? '−' : '';
  return `${sign}${plain(Math.abs(value), unit)}`;
}

const plain = (value: number, unit: BenchLine['unit']): string =>
  `${value.toFixed(unit === 'deg' ? (Number.isInteger(value) ? 0 : 1) : unit === 'mm' ? 1 : 2)}${UNITS[unit]}`;

const marginWords = (left: number, unit: BenchLine['unit']): string =>
  left < 0 ? `over by ${plain(-left, unit)}` : plain(left, unit);

function verdictWords(report: BenchReport): string {
  const out = report.lines.filter((line) => line.verdict === 'out');
  const cannot = report.lines.filter((line) => line.verdict === 'cannot-judge').length;
  const name = (line: BenchLine) => (line.eye === 'both' ? line.quantity : `${line.eye} ${line.quantity}`);
  const swapped = report.readSwapped
    ? ' Each lens reads as the other one was ordered: very likely they were put in the wrong way round.'
    : '';
  const by = `By ${report.standard}`;
  const rest = cannot > 0 ? ` ${cannot} of ${report.lines.length} cannot be judged.` : '';
  if (out.length > 0)
    return `${by}: out in ${out.map(name).join(', ')}. Hold it before it leaves.${rest}${swapped} Confirm at the bench.`;
  if (cannot === report.lines.length) return `${by}: nothing of it can be judged.${swapped}`;
  return `${by}: all that was read is within limits.${rest}${swapped} Confirm at the bench.`;
}

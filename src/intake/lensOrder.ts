import { bad, type Checked, good, type Problem } from '../problems.ts';
import { shortened } from './cells.ts';
import { allowedRange, figureIn, inRange } from './figures.ts';
import type { Eye } from './job.ts';
import { type Quantity, quantityOf } from './quantities.ts';

/** What the records say of one eye. What they do not say is left out. */
export type LensOrderEye = {
  readonly sphereD?: number;
  readonly cylinderD?: number;
  /** 0 < axis <= 180; a written 0 is given as 180. */
  readonly axisDeg?: number;
  readonly addD?: number;
  readonly farPdMm?: number;
  readonly nearPdMm?: number;
  readonly fittingHeightMm?: number;
  readonly opticalCentreHeightMm?: number;
  readonly frameAMm?: number;
  readonly frameBMm?: number;
  readonly effectiveDiameterMm?: number;
  readonly baseCurveD?: number;
  readonly wrapDeg?: number;
  /** Direction of the base, 0 to 360 degrees, counter-clockwise as seen facing the wearer. */
  readonly prismBaseDeg?: number;
  readonly prismPd?: number;
};

export type LensOrder = {
  readonly job?: string;
  /** Which lenses are asked for. */
  readonly eyes: 'both' | Eye;
  readonly right: LensOrderEye;
  readonly left: LensOrderEye;
  readonly bridgeMm?: number;
  /** Records that are not known here: kept as they stand, not guessed at. */
  readonly unknown: readonly { readonly label: string; readonly value: string }[];
};

type EyeField = keyof LensOrderEye;

const range = (unit: string, min: number, max: number): Quantity => ({
  ...quantityOf('rx')!,
  unit,
  min,
  max,
});

/**
 * Records of one value for each eye. Meanings: the data communication standard of the optical industry, labels as seen
 * in public code, meanings partly from memory.
 */
const OF_EACH_EYE: readonly {
  readonly label: string;
  readonly field: EyeField;
  readonly quantity: Quantity;
}[] = [
  { label: 'SPH', field: 'sphereD', quantity: range('D', -30, 30) },
  { label: 'CYL', field: 'cylinderD', quantity: range('D', -12, 12) },
  { label: 'AX', field: 'axisDeg', quantity: range('degrees', 0, 180) },
  { label: 'ADD', field: 'addD', quantity: quantityOf('order_add_D')! },
  { label: 'IPD', field: 'farPdMm', quantity: quantityOf('wearer_pd_mm')! },
  { label: 'NPD', field: 'nearPdMm', quantity: quantityOf('near_pd_mm')! },
  { label: 'SEGHT', field: 'fittingHeightMm', quantity: quantityOf('fitting_height_mm')! },
  { label: 'OCHT', field: 'opticalCentreHeightMm', quantity: range('mm', 5, 45) },
  { label: 'HBOX', field: 'frameAMm', quantity: quantityOf('frame_a_mm')! },
  { label: 'VBOX', field: 'frameBMm', quantity: quantityOf('frame_b_mm')! },
  { label: 'FED', field: 'effectiveDiameterMm', quantity: range('mm', 25, 90) },
  { label: 'MBASE', field: 'baseCurveD', quantity: quantityOf('base_curve_D')! },
  { label: 'ZTILT', field: 'wrapDeg', quantity: quantityOf('wrap_deg')! },
  { label: 'PRVA', field: 'prismBaseDeg', quantity: range('degrees', 0, 360) },
  { label: 'PRVM', field: 'prismPd', quantity: range('pd', 0, 20) },
];
const BY_LABEL = new Map(OF_EACH_EYE.map((record) => [record.label, record]));
const BRIDGE = quantityOf('dbl_mm')!;
const EYES_ASKED: Readonly<Record<string, LensOrder['eyes']>> = { B: 'both', R: 'R', L: 'L' };
const LONGEST_TEXT = 200_000;

/**
 * Reads lens-order records, one `LABEL=right;left` a line. An empty value and `?` are missing values. Unknown labels are
 * kept. Near PD greater than distance PD is refused: public programs disagree on which of IPD and NPD is which.
 */
export function readLensOrder(text: string): Checked<LensOrder> {
  const problems: Problem[] = [];
  const say = (code: string, where: string, what: string, mend: string) =>
    problems.push({ code, what, where, mend });
  if (text.length > LONGEST_TEXT) {
    return bad({
      code: 'lens-order-too-long',
      what: 'This is far too long for one order.',
      where: 'text',
      mend: 'Send one order a file.',
    });
  }
  const right: Partial<Record<EyeField, number>> = {};
  const left: Partial<Record<EyeField, number>> = {};
  const unknown: { label: string; value: string }[] = [];
  const seen = new Set<string>();
  let job: string | undefined;
  let bridgeMm: number | undefined;
  let eyes: LensOrder['eyes'] | undefined;
  const oneSided: { label: string; where: string }[] = [];

  const figure = (written: string | undefined, label: string, quantity: Quantity, where: string) => {
    const value = written?.trim() ?? '';
    if (value === '' || value === '?') return undefined;
    const found = figureIn(value);
    const reading = found === undefined ? undefined : inRange(found, quantity);
    if (reading?.ok) return reading.value;
    say(
      'lens-order-value',
      where,
      `${label} “${shortened(value)}” is not a value of this record; allowed: ${allowedRange(quantity)}.`,
      'Mend the value.',
    );
    return undefined;
  };

  const lines = text.replace(/^\ufeff/, '').split(/\r\n|\r|\n/);
  lines.forEach((line, index) => {
    const where = `line ${index + 1}`;
    const trimmed = line.replaceAll('\u0000', '').trim();
    if (trimmed === '') return;
    const equals = trimmed.indexOf('=');
    if (equals < 1) {
      say(
        'lens-order-no-label',
        where,
        `“${shortened(trimmed)}” is not LABEL=value.`,
        'Write one record a line, for example SPH=-1.75;-2.00.',
      );
      return;
    }
    const label = trimmed.slice(0, equals).trim().toUpperCase();
    const value = trimmed.slice(equals + 1).trim();
    const record = BY_LABEL.get(label);
    const known = record !== undefined || label === 'DBL' || label === 'DO' || label === 'JOB';
    if (known && seen.has(label)) {
      say('lens-order-twice', where, `${label} stands twice in this order.`, 'Leave the one that counts.');
      return;
    }
    seen.add(label);
    if (label === 'JOB') job = value;
    else if (label === 'DBL') bridgeMm = figure(value.split(';')[0], label, BRIDGE, where);
    else if (label === 'DO') {
      eyes = EYES_ASKED[value.toUpperCase()];
      if (!eyes)
        say(
          'lens-order-eyes',
          where,
          `DO “${shortened(value)}” is not B, R or L.`,
          'Write B for both lenses, R or L for one.',
        );
    } else if (record) {
      const parts = value.split(';');
      if (parts.length === 1) oneSided.push({ label, where });
      if (parts.length > 2) {
        say(
          'lens-order-parts',
          where,
          `${label} has ${parts.length} values.`,
          'Write right and left only, with one semicolon.',
        );
        return;
      }
      const [ofRight, ofLeft] = parts.map((part) => figure(part, label, record.quantity, where));
      if (ofRight !== undefined) right[record.field] = ofRight;
      if (ofLeft !== undefined) left[record.field] = ofLeft;
    } else unknown.push({ label, value });
  });

  const asked = eyes ?? 'both';
  for (const { label, where } of oneSided) {
    if (asked === 'both') {
      say(
        'lens-order-eye',
        where,
        `${label} has one value and does not say for which eye.`,
        'Write right;left, or DO=R or DO=L for one lens.',
      );
    } else if (asked === 'L') {
      const { field } = BY_LABEL.get(label)!;
      const value = right[field];
      if (value !== undefined) left[field] = value;
      delete right[field];
    }
  }
  for (const [name, eye] of [
    ['right', right],
    ['left', left],
  ] as const) {
    if (eye.axisDeg === 0) eye.axisDeg = 180;
    if (eye.nearPdMm !== undefined && eye.farPdMm !== undefined && eye.nearPdMm > eye.farPdMm) {
      say(
        'lens-order-pd-swapped',
        `IPD and NPD, ${name}`,
        `Near PD ${eye.nearPdMm} mm is greater than distance PD ${eye.farPdMm} mm; some programs write IPD and NPD the other way round.`,
        'Find out which is which from the program that wrote it, and change them over.',
      );
    }
    if (eye.cylinderD !== undefined && eye.cylinderD !== 0 && eye.axisDeg === undefined) {
      say(
        'lens-order-axis',
        `AX, ${name}`,
        `CYL ${eye.cylinderD} stands without an axis.`,
        'Write the axis.',
      );
    }
  }
  if (problems.length > 0) return bad(...problems);
  return good({
    ...(job === undefined || job === '' ? {} : { job }),
    eyes: asked,
    right,
    left,
    ...(bridgeMm === undefined ? {} : { bridgeMm }),
    unknown,
  });
}

/** Where the lenses stand in the frame, from the boxed sizes; millimetres. */
export type FrameGeometry = {
  /** A + DBL: from box centre to box centre. */
  readonly framePdMm?: number;
  /** Half the frame PD minus the monocular PD: plus is inwards. */
  readonly decentrationInMm: { readonly R?: number; readonly L?: number };
  /** Fitting height minus half of B: plus is above the midline of the box. */
  readonly heightAboveMidlineMm: { readonly R?: number; readonly L?: number };
};

/**
 * Frame PD = (A right + A left) / 2 + DBL; decentration in = frame PD / 2 - monocular PD; height above the midline =
 * fitting height - B / 2. Source: boxing system, ISO 8624 (from memory); common practice for decentration.
 */
export function frameGeometry({ right, left, bridgeMm }: LensOrder): FrameGeometry {
  const sides = [right.frameAMm, left.frameAMm].filter((size) => size !== undefined);
  const meanA = sides.length === 0 ? undefined : sides.reduce((sum, size) => sum + size, 0) / sides.length;
  const framePdMm = meanA === undefined || bridgeMm === undefined ? undefined : meanA + bridgeMm;
  const decentration = ({ farPdMm }: LensOrderEye) =>
    framePdMm === undefined || farPdMm === undefined ? undefined : framePdMm / 2 - farPdMm;
  const above = ({ fittingHeightMm, frameBMm }: LensOrderEye) =>
    fittingHeightMm === undefined || frameBMm === undefined ? undefined : fittingHeightMm - frameBMm / 2;
  return {
    ...(framePdMm === undefined ? {} : { framePdMm }),
    decentrationInMm: bothEyes(decentration(right), decentration(left)),
    heightAboveMidlineMm: bothEyes(above(right), above(left)),
  };
}

const bothEyes = (R: number | undefined, L: number | undefined) => ({
  ...(R === undefined ? {} : { R }),
  ...(L === undefined ? {} : { L }),
});

/** Writes an order as records, CRLF at the end of each. What is missing is written empty; unknown records come last. */
export function writeLensOrder({ job, eyes, right, left, bridgeMm, unknown }: LensOrder): string {
  const lines: string[] = [];
  if (job !== undefined) lines.push(`JOB=${onOneLine(job)}`);
  lines.push(`DO=${eyes === 'both' ? 'B' : eyes}`);
  for (const { label, field, quantity } of OF_EACH_EYE) {
    const [ofRight, ofLeft] = [right[field], left[field]];
    if (ofRight === undefined && ofLeft === undefined) continue;
    const places = quantity.unit === 'D' || quantity.unit === 'pd' ? 2 : 1;
    const value = (figure: number | undefined) => {
      if (figure === undefined) return '';
      if (field === 'axisDeg') return String(figure);
      const rounded = figure.toFixed(places);
      return Number(rounded) === figure ? rounded : String(figure);
    };
    lines.push(`${label}=${value(ofRight)};${value(ofLeft)}`);
  }
  if (bridgeMm !== undefined) lines.push(`DBL=${bridgeMm}`);
  for (const { label, value } of unknown) lines.push(`${onOneLine(label)}=${onOneLine(value)}`);
  return `${lines.join('\r\n')}\r\n`;
}

/** A line end inside a value would begin a record of its own. */
const onOneLine = (text: string) => text.replace(/\p{Cc}+/gu, ' ').trim();

import { CONFIRM, type LensKind, type Limit, READING_EPSILON_D } from './limit.ts';

const SOURCE = 'ISO 21987:2017';
const RANGES_SEEN = 'ISO 21987, ends of the range on a published page (German)';

type Row = {
  readonly toD: number;
  readonly meridian: readonly [sv: number, pal: number];
  /** By size of cylinder: to 0.75, to 4.00, to 6.00, over; single vision then progressive. */
  readonly cylinder: readonly (readonly [sv: number, pal: number])[];
};

// The whole table is from memory and says so in every result; only the ends of its ranges were read.
const ROWS: readonly Row[] = [
  {
    toD: 3,
    meridian: [0.12, 0.12],
    cylinder: [
      [0.09, 0.12],
      [0.12, 0.18],
      [0.18, 0.18],
      [0.18, 0.25],
    ],
  },
  {
    toD: 6,
    meridian: [0.12, 0.12],
    cylinder: [
      [0.12, 0.12],
      [0.12, 0.18],
      [0.18, 0.18],
      [0.25, 0.25],
    ],
  },
  {
    toD: 9,
    meridian: [0.12, 0.18],
    cylinder: [
      [0.12, 0.18],
      [0.18, 0.18],
      [0.18, 0.18],
      [0.25, 0.25],
    ],
  },
  {
    toD: 12,
    meridian: [0.18, 0.18],
    cylinder: [
      [0.12, 0.18],
      [0.18, 0.18],
      [0.25, 0.25],
      [0.25, 0.25],
    ],
  },
  {
    toD: 20,
    meridian: [0.25, 0.25],
    cylinder: [
      [0.18, 0.18],
      [0.25, 0.25],
      [0.25, 0.25],
      [0.25, 0.25],
    ],
  },
  {
    toD: Infinity,
    meridian: [0.37, 0.37],
    cylinder: [
      [0.25, 0.25],
      [0.25, 0.25],
      [0.37, 0.37],
      [0.37, 0.37],
    ],
  },
];
const CYLINDER_EDGES_D = [0.75, 4, 6, Infinity];

const AXIS_BANDS: readonly (readonly [toD: number, limitDeg: number])[] = [
  [0.25, 16],
  [0.5, 9],
  [0.75, 6],
  [1.5, 4],
  [2.5, 3],
  [Infinity, 2],
];

/**
 * Power of each principal meridian, dioptres, by the stronger meridian. Multifocals are held as single vision.
 * From memory, and the result says so.
 */
export const isoMeridianLimit = (strongerD: number, kind: LensKind): Limit =>
  remembered(rowFor(strongerD).meridian[column(kind)], 'D');

/** Cylinder, dioptres, by the stronger meridian and the cylinder. From memory, and the result says so. */
export const isoCylinderLimit = (strongerD: number, cylinderD: number, kind: LensKind): Limit => {
  const at = CYLINDER_EDGES_D.findIndex((edge) => Math.abs(cylinderD) <= edge + READING_EPSILON_D);
  const pair = rowFor(strongerD).cylinder[at] as readonly [number, number];
  return remembered(pair[column(kind)], 'D');
};

/**
 * Axis, degrees, by ordered cylinder; `null` under 0.12 D. The ends, 16 and 2 degrees, were read on a published page;
 * the bands between are from memory.
 */
export const isoAxisLimit = (cylinderD: number): Limit | null => {
  const size = Math.abs(cylinderD);
  if (size < 0.12 - 1e-9) return null;
  const band = AXIS_BANDS.find(([toD]) => size <= toD + READING_EPSILON_D) as readonly [number, number];
  return remembered(band[1], 'deg');
};

/** The tightest and the widest axis limit of the table, degrees. Source: published page on DIN EN ISO 21987. */
export const isoAxisRangeDeg = () => ({
  smallestDeg: Math.min(...AXIS_BANDS.map(([, limit]) => limit)),
  largestDeg: Math.max(...AXIS_BANDS.map(([, limit]) => limit)),
  source: RANGES_SEEN,
});

/** Add: 0.12 D to 4.00, 0.18 over. From memory. */
export const isoAddLimit = (addD: number): Limit =>
  remembered(addD <= 4 + READING_EPSILON_D ? 0.12 : 0.18, 'D');

/** Relative prism, vertical: 0.50 pd to 5 D along 90, then 1.0 mm. From memory, weak. */
export const isoVerticalImbalanceLimit = (rightPower90D: number, leftPower90D: number): Limit =>
  Math.min(Math.abs(rightPower90D), Math.abs(leftPower90D)) <= 5
    ? remembered(0.5, 'pd')
    : remembered(1, 'mm');

/** Relative prism, horizontal: 0.67 pd to 3.25 D along 180, then 2.0 mm. From memory, weak. */
export const isoHorizontalImbalanceLimit = (power180D: number): Limit =>
  Math.abs(power180D) <= 3.25 ? remembered(0.67, 'pd') : remembered(2, 'mm');

/** Fitting point heights and monocular distances: 1.0 mm each (the figure was read; its clause from memory). */
export const isoPlaceLimit = (): Limit => remembered(1, 'mm');
/** Tilt of the marking line: 2 degrees. From memory. */
export const isoMarksTiltLimit = (): Limit => remembered(2, 'deg');
/** Centre thickness: 0.3 mm. Source: ISO 8980-1:2004. */
export const isoThicknessLimit = (): Limit => ({ limit: 0.3, unit: 'mm', source: 'ISO 8980-1:2004' });

const rowFor = (strongerD: number): Row =>
  ROWS.find(({ toD }) => Math.abs(strongerD) <= toD + READING_EPSILON_D) as Row;
const column = (kind: LensKind): 0 | 1 => (kind === 'progressive' ? 1 : 0);
const remembered = (limit: number, unit: Limit['unit']): Limit => ({
  limit,
  unit,
  source: SOURCE,
  caution: CONFIRM,
});

import { CONFIRM, isWithin, type LensKind, type Limit, READING_EPSILON_D } from './limit.ts';

const GUIDE = 'ANSI Z80.1-2015, quick reference guide';
const SUMMARY = 'ANSI Z80.1-2010, published summary';
const TABLES_1999 = 'ANSI Z80.1-1999, tables as published by a laboratory';

/** Band edges belong to the lower band, and 0.12 may stand for 0.125. */
const upTo = (value: number, edge: number): boolean => value <= edge + READING_EPSILON_D + 1e-9;

/**
 * Sphere meridian (minus cylinder form): single vision and multifocal ±0.13 D to 6.50, then 2 %; progressive ±0.16 D
 * to 8.00, then 2 %. Dioptres. Source: ANSI Z80.1-2015, quick reference guide.
 */
export const ansiSphereLimit = (sphereMeridianD: number, kind: LensKind): Limit => {
  const size = Math.abs(sphereMeridianD);
  const [edgeD, flatD] = kind === 'progressive' ? [8, 0.16] : [6.5, 0.13];
  return dioptres(size <= edgeD ? flatD : 0.02 * size, GUIDE);
};

/**
 * Cylinder (minus form): single vision and multifocal 0.13 D to 2.00, 0.15 to 4.50, then 4 %; progressive 0.16 to
 * 2.00, 0.18 to 3.50, then 5 %. Source: ANSI Z80.1-2015, quick reference guide.
 */
export const ansiCylinderLimit = (cylinderD: number, kind: LensKind): Limit => {
  const size = Math.abs(cylinderD);
  if (kind === 'progressive') {
    return dioptres(upTo(size, 2) ? 0.16 : upTo(size, 3.5) ? 0.18 : 0.05 * size, GUIDE);
  }
  return dioptres(upTo(size, 2) ? 0.13 : upTo(size, 4.5) ? 0.15 : 0.04 * size, GUIDE);
};

/**
 * Axis, degrees, by ordered cylinder: to 0.25 D 14, to 0.50 7, to 0.75 5, to 1.50 3, over 2. `null` under 0.12 D: no
 * limit there. Source: ANSI Z80.1-2015, quick reference guide.
 */
export const ansiAxisLimit = (cylinderD: number): Limit | null => {
  const size = Math.abs(cylinderD);
  if (size < 0.12 - 1e-9) return null;
  return { limit: axisBand(size), unit: 'deg', source: GUIDE };
};

/** Add: 0.12 D to 4.00, 0.18 over. Source: ANSI Z80.1-2015, quick reference guide. */
export const ansiAddLimit = (addD: number): Limit => dioptres(upTo(addD, 4) ? 0.12 : 0.18, GUIDE);

/**
 * Prism of each lens at the reference point: 0.33 pd, or the point within 1.0 mm of its place. The 2015 guide prints
 * "or"; a forum quoting clauses 5.1.4 and 8.4 of 2010 reads "and": show both numbers.
 */
export const ansiPrismPointLimits = (): { readonly prism: Limit; readonly place: Limit } => ({
  prism: prism(0.33, GUIDE),
  place: millimetres(1, GUIDE),
});

/**
 * Is the prism of a lens at its reference point in order: by its size, or by the place of the point (mm; `null` where
 * that is not known)? Source: as `ansiPrismPointLimits`, read as "or".
 */
export const ansiPrismPointWithin = (prismErrorPd: number, placeErrorMm: number | null): boolean => {
  const limits = ansiPrismPointLimits();
  if (isWithin(prismErrorPd, limits.prism)) return true;
  return placeErrorMm !== null && isWithin(placeErrorMm, limits.place);
};

/**
 * Vertical imbalance of the mounted pair: 0.33 pd where the power along 90 is to 3.375 D, above that the heights of
 * the two reference points within 1.0 mm. The weaker lens decides, so the millimetre rule needs both above.
 * Source: ANSI Z80.1-2015, quick reference guide; "both over" in a class quiz.
 */
export const ansiVerticalImbalanceLimit = (rightPower90D: number, leftPower90D: number): Limit =>
  Math.min(Math.abs(rightPower90D), Math.abs(leftPower90D)) <= 3.375 + 1e-9
    ? prism(0.33, GUIDE)
    : millimetres(1, GUIDE);

/**
 * Horizontal imbalance of the mounted pair. Single vision and multifocal: 0.67 pd where the power along 180 is to
 * 2.75 D, above that the centres within 2.5 mm of the PD. Progressive: 0.67 pd to 3.75 D, above that each point within
 * 1.0 mm (1999 tables; later editions 3.375 D, from memory).
 */
export const ansiHorizontalImbalanceLimit = (power180D: number, kind: LensKind): Limit => {
  const size = Math.abs(power180D);
  if (kind !== 'progressive') return size <= 2.75 + 1e-9 ? prism(0.67, GUIDE) : millimetres(2.5, GUIDE);
  const limit = size <= 3.75 + 1e-9 ? prism(0.67, TABLES_1999) : millimetres(1, TABLES_1999);
  return size > 3.375 && size <= 3.75
    ? { ...limit, caution: `later editions change over at 3.375 D; ${CONFIRM}` }
    : limit;
};

/**
 * Height of segment or fitting cross: each within 1.0 mm of the order, the two errors within 1.0 mm of each other.
 * Source: 2010 summary for segments; 1999 heading covers the fitting cross; its pair rule from memory.
 */
export const ansiHeightLimits = (kind: LensKind): { readonly each: Limit; readonly pair: Limit } =>
  kind === 'progressive'
    ? { each: millimetres(1, TABLES_1999), pair: { ...millimetres(1, SUMMARY), caution: CONFIRM } }
    : { each: millimetres(1, SUMMARY), pair: millimetres(1, SUMMARY) };

/**
 * Sideways place: fitting cross within 1.0 mm of each monocular PD (from memory); segments within 2.5 mm of the near
 * PD in all (2010 summary).
 */
export const ansiSidewaysLimit = (kind: LensKind): Limit =>
  kind === 'progressive' ? { ...millimetres(1, SUMMARY), caution: CONFIRM } : millimetres(2.5, SUMMARY);

/** Tilt of a segment 2 degrees (2010 summary); of a progressive's marking line the same, from memory. */
export const ansiMarksTiltLimit = (kind: LensKind): Limit => {
  const limit: Limit = { limit: 2, unit: 'deg', source: SUMMARY };
  return kind === 'progressive' ? { ...limit, caution: CONFIRM } : limit;
};

/** Segment size: each ±0.5 mm, the pair within 0.7 mm. Source: 1999 tables. */
export const ansiSegmentSizeLimits = (): { readonly each: Limit; readonly pair: Limit } => ({
  each: millimetres(0.5, TABLES_1999),
  pair: millimetres(0.7, TABLES_1999),
});

/** Base curve, where one was ordered: ±0.75 D. Source: 1999 tables; later editions keep it (from memory). */
export const ansiBaseCurveLimit = (): Limit => ({ ...dioptres(0.75, TABLES_1999), caution: CONFIRM });
/** Centre thickness, where one was ordered: ±0.3 mm. Source: 1999 tables; later editions keep it (from memory). */
export const ansiThicknessLimit = (): Limit => ({ ...millimetres(0.3, TABLES_1999), caution: CONFIRM });
/** Warpage: 1.00 D. From memory. */
export const ansiWarpageLimit = (): Limit => ({ ...dioptres(1, 'ANSI Z80.1'), caution: CONFIRM });

const axisBand = (size: number): number => {
  if (upTo(size, 0.25)) return 14;
  if (upTo(size, 0.5)) return 7;
  if (upTo(size, 0.75)) return 5;
  return upTo(size, 1.5) ? 3 : 2;
};

const dioptres = (limit: number, source: string): Limit => ({ limit, unit: 'D', source });
const prism = (limit: number, source: string): Limit => ({ limit, unit: 'pd', source });
const millimetres = (limit: number, source: string): Limit => ({ limit, unit: 'mm', source });

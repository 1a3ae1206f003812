import type { BenchJob, BenchLine, EyeOrder, EyeReading } from './benchJob.ts';
import { cannotJudge, compared } from './benchLine.ts';
import { heightLimits, marksTiltLimit, sidewaysLimit, thicknessLimit } from './limits.ts';
import { ansiBaseCurveLimit } from './limitsAnsi.ts';
import { readingPlaces } from './readingPlaces.ts';
import type { Eye } from './spheroCyl.ts';

/**
 * Where the crosses sit, how level the marks lie, and thickness and base curve where they were ordered and looked at.
 * Millimetres, degrees, dioptres; found minus ordered. Sources: `heightLimits`, `sidewaysLimit` and their like.
 */
export const benchLayoutLines = (job: BenchJob, eye: Eye): BenchLine[] => {
  const order = job.order[eye];
  const read = job.read[eye] ?? {};
  return [...layoutLines(job, eye, order, read), ...optionalLines(job, eye, order, read)];
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

/** The two errors of height against each other: a pair may be out though each eye is within its own limit. */
export const heightPairLines = (job: BenchJob): BenchLine[] => {
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

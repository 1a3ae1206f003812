import type { Drift, DriftPoint } from './drift.ts';
import { pairsInWords } from './words.ts';

type DriftChartFound = Extract<Drift, { kind: 'chart' }>;

export type DriftPicture = {
  /** In order; no more than asked for. */
  readonly points: readonly DriftPoint[];
  readonly inWords: string;
};

/**
 * Points enough to draw: a line of a hundred thousand is no clearer than one of a few hundred. Of every stretch the
 * point with the most evidence stays, so that no alarm and no peak is lost.
 */
export function driftPicture(found: DriftChartFound, mostPoints = 400): DriftPicture {
  const { points, alarms } = found;
  const stretch = Math.max(1, Math.ceil(points.length / mostPoints));
  const drawn: DriftPoint[] = [];
  for (let from = 0; from < points.length; from += stretch) {
    let top = points[from]!;
    for (const point of points.slice(from + 1, from + stretch))
      if (point.evidence > top.evidence) top = point;
    drawn.push(top);
  }
  const last = points.at(-1);
  const now =
    last === undefined
      ? ''
      : ` The evidence stands at ${Math.round(last.evidence * 100)} % of the alarm line.`;
  return {
    points: drawn,
    inWords: `${pairsInWords(points.length)} since the baseline, ${alarms.length === 1 ? '1 alarm' : `${alarms.length} alarms`}.${now}`,
  };
}

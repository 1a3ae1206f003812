import type { Drift, DriftPoint } from './drift.ts';
import { pairsInWords } from './words.ts';

type DriftChartFound = Extract<Drift, { kind: 'chart' }>;

export type DriftPicture = {
  /** In order; no more than asked for. `at` finds a point again among all. */
  readonly points: readonly (DriftPoint & { readonly at: number })[];
  readonly inWords: string;
};

/**
 * Points enough to draw: a line of a hundred thousand is no clearer than one of a few hundred. Of every stretch the
 * point with the most evidence stays, so that no alarm and no peak is lost.
 */
export function driftPicture(found: DriftChartFound, mostPoints = 400): DriftPicture {
  const { followed, alarms } = found;
  const { count, evidence, point } = followed;
  const stretch = Math.max(1, Math.ceil(count / mostPoints));
  const drawn: (DriftPoint & { at: number })[] = [];
  for (let from = 0; from < count; from += stretch) {
    let top = from;
    for (let at = from + 1; at < Math.min(count, from + stretch); at += 1)
      if (evidence[at]! > evidence[top]!) top = at;
    drawn.push({ ...point(top), at: top });
  }
  const last = evidence.at(-1);
  const now =
    last === undefined ? '' : ` The evidence stands at ${Math.round(last * 100)} % of the alarm line.`;
  return {
    points: drawn,
    inWords: `${pairsInWords(count)} since the baseline, ${alarms.length === 1 ? '1 alarm' : `${alarms.length} alarms`}.${now}`,
  };
}

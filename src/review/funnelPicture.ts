import { ALARM_TAIL, ALERT_TAIL, exactFunnelLimit } from './funnelLimits.ts';
import type { RemakeRates } from './remakeRates.ts';
import type { Trace } from './trace.ts';
import type { Verdict } from './verdicts.ts';
import { percent } from './words.ts';

type FunnelPoint = {
  readonly group: string;
  readonly n: number;
  readonly rate: number;
  readonly verdict: Verdict;
  readonly sentence: string;
  readonly trace: Trace;
};

type FunnelLine = {
  readonly n: number;
  readonly low998: number;
  readonly low95: number;
  readonly high95: number;
  readonly high998: number;
};

export type FunnelPicture = {
  readonly centre: number;
  readonly points: readonly FunnelPoint[];
  /** The bands round the shop's rate at rising numbers of pairs, cut to [0, 1]. */
  readonly lines: readonly FunnelLine[];
  readonly caption: string;
  /** The picture in words, for those who do not see it. */
  readonly inWords: string;
};

/**
 * Data of the more-than-luck picture: every group's rate over its number of ripe pairs, and the bands within which luck
 * alone would keep 95 % and 99.8 % of groups like the shop. The lines stand round the shop's own rate; the verdicts do
 * not come from the lines but from each group's tail against all others.
 */
export function funnelPicture(rates: RemakeRates): FunnelPicture {
  const centre = rates.shop.rate.value;
  const points = rates.groups
    .filter(({ ripe }) => ripe > 0)
    .map(({ group, ripe, rate, verdict, sentence }) => ({
      group,
      n: ripe,
      rate: rate.value,
      verdict,
      sentence,
      trace: rate.trace,
    }));
  const largest = points.reduce((most, { n }) => Math.max(most, n), 20);
  return {
    centre,
    points,
    lines: centre > 0 && centre < 1 ? sizes(largest).map((n) => lineAt(centre, n)) : [],
    caption:
      `Middle line: the shop, ${percent(centre)} % of ${rates.shop.ripe} ripe pairs, ${rates.reasons}. ` +
      'Inner band: luck alone keeps 95 of 100 such groups inside; outer band: 998 of 1,000. ' +
      `${rates.looks}.`,
    inWords: inWords(rates),
  };
}

/** Numbers of pairs at which the lines are drawn: closer together where they bend. */
function sizes(largest: number): number[] {
  const found = new Set<number>();
  for (let n = 5; n < largest; n = Math.max(n + 1, Math.round(n * 1.08))) found.add(n);
  return [...found, largest];
}

function lineAt(centre: number, n: number): FunnelLine {
  const limit = (p: number): number => Math.min(1, Math.max(0, exactFunnelLimit(centre, n, p)));
  return {
    n,
    low998: limit(ALARM_TAIL),
    low95: limit(ALERT_TAIL),
    high95: limit(1 - ALERT_TAIL),
    high998: limit(1 - ALARM_TAIL),
  };
}

function inWords({ groups }: RemakeRates): string {
  const named = (verdict: Verdict): string[] =>
    groups.filter((group) => group.verdict === verdict).map(({ sentence }) => sentence);
  const out = [...named('worse than the rest'), ...named('watch'), ...named('better')];
  const alike = named('like the rest').length;
  const few = named('too few to say').length;
  const rest = `${alike} like the rest, ${few} too few to say.`;
  return out.length === 0 ? `No group lies outside what luck would do: ${rest}` : `${out.join(' ')} ${rest}`;
}

import { aalenJohansen, type EndStep, shareInterval } from './aalenJohansen.ts';
import { type CountedGroup, LAST_DAY } from './countGroups.ts';
import { stepOn } from './kaplanMeier.ts';
import { wilson } from './oneRate.ts';
import { WAYS_BACK, type WayBack } from './pairs.ts';
import type { PairsInColumns } from './ripePairs.ts';
import { countedTrace, type Figure } from './trace.ts';
import type { DayTally } from './watched.ts';

const RATE_DAYS = [30, 60, LAST_DAY] as const;

export type ShareByDay = {
  readonly day: (typeof RATE_DAYS)[number];
  readonly atRisk: number;
  /** All counted ways together. */
  readonly anyWay: Figure;
  readonly back: Readonly<Record<WayBack, Figure>>;
};

const WAYS = WAYS_BACK.length;

/**
 * Shares back by each day: every way by itself, and the counted ways together. A share's error is 0 while no event was
 * seen and says nothing then, so the bound for "none of those still watched" stands in.
 */
export function sharesByDay(one: CountedGroup, { columns, reasons, ways }: PairsInColumns): ShareByDay[] {
  const { tally, riskOn } = tallyOf(one);
  const steps = aalenJohansen(tally);
  const counted = WAYS_BACK.map((way) => ways.includes(way));
  const together = aalenJohansen(
    tally.map((row) => {
      const inCount = row.ends.reduce((sum, ends, k) => sum + (counted[k] ? ends : 0), 0);
      return { ...row, ends: [inCount, row.allEnds - inCount] };
    }),
  );
  return RATE_DAYS.map((day) => {
    const figure = (which: string, step: EndStep | undefined, k: number, holds: (way: number) => boolean) => {
      const behind = one.ends.filter((end) => end.day <= day && holds(end.way));
      const none = behind.length === 0;
      const value = step?.shares[k] ?? 0;
      const method = `Aalen-Johansen share by day ${day}, ${which}, ways back excluding one another, ${reasons}; ${
        none ? 'none seen, Wilson 95 % on those still watched' : 'log-log 95 %'
      }`;
      const interval = none ? wilson(0, riskOn[day]!) : shareInterval(value, step?.errors[k] ?? 0);
      const back = { count: behind.length, ids: () => behind.map(({ at }) => columns.pairId(at)) };
      return { value, trace: countedTrace(method, back, one.handedOver, interval) };
    };
    const back = WAYS_BACK.map((way, k): [WayBack, Figure] => [
      way,
      figure(way, stepOn(steps, day), k, (ended) => ended === k),
    ]);
    return {
      day,
      atRisk: riskOn[day]!,
      anyWay: figure(ways.join(', '), stepOn(together, day), 0, (ended) => counted[ended]!),
      back: Object.fromEntries(back) as Record<WayBack, Figure>,
    };
  });
}

function tallyOf(one: CountedGroup): { readonly tally: DayTally[]; readonly riskOn: readonly number[] } {
  const tally: DayTally[] = [];
  const riskOn: number[] = [];
  let atRisk = one.handedOver.count;
  for (let day = 0; day <= LAST_DAY; day += 1) {
    riskOn.push(atRisk);
    const ends = Array.from(one.endCounts.subarray(day * WAYS, (day + 1) * WAYS));
    const allEnds = ends.reduce((sum, count) => sum + count, 0);
    if (allEnds > 0) tally.push({ day, atRisk, ends, allEnds });
    atRisk -= one.leaving[day]!;
  }
  return { tally, riskOn };
}

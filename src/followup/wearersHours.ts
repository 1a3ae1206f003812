import { isCivil, nextCivil } from '../channels/civilHours.ts';
import { localDaysAt, nextDayCivil } from './localDays.ts';
import { localDay } from './planSlots.ts';

/** What the clock says where a wearer is, or may be. */
export type WearersHours = {
  readonly civilNow: boolean;
  readonly nextCivilMs: number;
  readonly nextDayCivilMs: number;
  readonly localDay: string;
  /** An instant falls on the present local day, in any of the zones. */
  isToday(at: Date): boolean;
};

/** Reckoned once for each set of zones. */
export function hoursOf(now: Date): (zones: readonly string[]) => WearersHours {
  const known = new Map<string, WearersHours>();
  return (zones) => {
    const key = zones.join(' ');
    const found = known.get(key) ?? reckon(now, zones);
    known.set(key, found);
    return found;
  };
}

function reckon(now: Date, zones: readonly string[]): WearersHours {
  const days = localDaysAt(now, zones);
  return {
    civilNow: isCivil(now, zones),
    nextCivilMs: nextCivil(now, zones).getTime(),
    nextDayCivilMs: nextDayCivil(now, zones).getTime(),
    localDay: localDay(now, zones[0]!),
    isToday: (at) => days.some(({ fromMs, toMs }) => at.getTime() >= fromMs && at.getTime() < toMs),
  };
}

import { Temporal } from 'temporal-polyfill';

/** Hours of the wearer's own clock, `HH:MM`; from the opening minute up to, and not with, the closing minute. */
export type CivilWindow = { readonly from: string; readonly to: string; readonly sundayFrom?: string };

/** Common practice, no source: nobody is woken, and nobody is written to on a Sunday morning. */
export const CIVIL_HOURS: CivilWindow = { from: '09:00', to: '19:00', sundayFrom: '12:00' };

/**
 * No window opens earlier or closes later than this, and 21:00:00 itself is closed. Source: 47 CFR 64.1200(c)(1),
 * written for solicitations (read as quoted); kept here for every message.
 */
export const OUTER_HOURS: CivilWindow = { from: '08:00', to: '21:00' };

/** True when it is civil in every zone that the wearer may be in. Nobody is known to be nowhere: no zone, not civil. */
export function isCivil(at: Date, zones: readonly string[], window: CivilWindow = CIVIL_HOURS): boolean {
  return zones.length > 0 && zones.every((zone) => nextOpenMs(at.getTime(), zone, window) === at.getTime());
}

/**
 * The first instant, from `at` on, that is civil in every zone. Zones so far apart that no such instant comes within
 * eight days give the end of those days: the sender, who looks again before it sends, will find it closed and wait on.
 */
export function nextCivil(at: Date, zones: readonly string[], window: CivilWindow = CIVIL_HOURS): Date {
  const giveUpMs = at.getTime() + EIGHT_DAYS_MS;
  let ms = zones.length > 0 ? at.getTime() : giveUpMs;
  while (ms < giveUpMs) {
    const latest = Math.max(...zones.map((zone) => nextOpenMs(ms, zone, window)));
    if (latest === ms) return new Date(ms);
    ms = latest;
  }
  return new Date(giveUpMs);
}

/**
 * The instant of `hour` o'clock on the day `days` after `date`, counted in calendar days of the wearer's zone and never in
 * lots of 24 hours. With several candidate zones: the latest, so that the hour has come in all.
 */
export function dayOfWearAt(
  zones: string | readonly string[],
  date: string,
  days: number,
  hour: number,
): Date {
  const candidates = typeof zones === 'string' ? [zones] : zones;
  const day = Temporal.PlainDate.from(date).add({ days });
  const time = Temporal.PlainTime.from({ hour });
  return new Date(Math.max(...candidates.map((zone) => instantMs(day, time, zone))));
}

/** The same wall-clock time, `days` calendar days after a local time (`2026-03-06T10:00`). */
export function sameTimeDaysAfter(local: string, zone: string, days: number): Date {
  return instantOfLocal(Temporal.PlainDateTime.from(local).add({ days }).toString(), zone);
}

/**
 * The instant of a local time. A time that comes twice is the first; one that is skipped is read with the offset before
 * the gap (02:30 becomes 03:30). Source: RFC 5545 section 3.3.5.
 */
export function instantOfLocal(local: string, zone: string): Date {
  const { date, time } = parts(Temporal.PlainDateTime.from(local));
  return new Date(instantMs(date, time, zone));
}

/** An instant as the wearer's wall clock shows it, with its offset: `2026-03-09T10:00:00-04:00`. */
export function asLocal(at: Date, zone: string): string {
  return zoned(at.getTime(), zone).toString({ timeZoneName: 'never', smallestUnit: 'second' });
}

const EIGHT_DAYS_MS = 8 * 86_400_000;
const SUNDAY = 7;

const zoned = (ms: number, zone: string) =>
  Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone);
const parts = (at: Temporal.PlainDateTime) => ({ date: at.toPlainDate(), time: at.toPlainTime() });
const instantMs = (date: Temporal.PlainDate, time: Temporal.PlainTime, zone: string) =>
  date.toZonedDateTime({ timeZone: zone, plainTime: time }).epochMilliseconds;

/** `ms` itself when the window is open then, else the moment at which it opens next. */
function nextOpenMs(ms: number, zone: string, window: CivilWindow): number {
  const local = zoned(ms, zone);
  for (let days = 0; days <= 8; days++) {
    const day = local.toPlainDate().add({ days });
    const { openMs, closeMs } = hoursOfDay(day, zone, window);
    if (ms < closeMs && openMs < closeMs) return Math.max(ms, openMs);
  }
  return ms + EIGHT_DAYS_MS;
}

function hoursOfDay(day: Temporal.PlainDate, zone: string, window: CivilWindow) {
  const from = day.dayOfWeek === SUNDAY ? (window.sundayFrom ?? window.from) : window.from;
  const open = later(from, OUTER_HOURS.from);
  const close = earlier(window.to, OUTER_HOURS.to);
  return {
    openMs: instantMs(day, Temporal.PlainTime.from(open), zone),
    closeMs: instantMs(day, Temporal.PlainTime.from(close), zone),
  };
}

// Times of day as `HH:MM` sort as text.
const later = (one: string, other: string) => (one > other ? one : other);
const earlier = (one: string, other: string) => (one < other ? one : other);

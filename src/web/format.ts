import { Temporal } from 'temporal-polyfill';

/** Dates and times as a reader of the shop's pages sees them. Built once per zone: a formatter is slow to make. */
const formatters = new Map<string, Intl.DateTimeFormat>();

function formatter(zone: string, kind: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${zone} ${kind}`;
  let found = formatters.get(key);
  if (!found) {
    found = new Intl.DateTimeFormat('en-GB', { timeZone: zone, ...options });
    formatters.set(key, found);
  }
  return found;
}

/** "Thu 27 Aug 2026, 10:42" in a zone. */
export const longTime = (at: Date, zone: string): string =>
  `${formatter(zone, 'long', { weekday: 'short', day: 'numeric', month: 'short', year: 'numeric' }).format(at).replace(',', '')}, ${clockTime(at, zone)}`;

/** "10:42" in a zone. */
export const clockTime = (at: Date, zone: string): string =>
  formatter(zone, 'clock', { hour: '2-digit', minute: '2-digit', hour12: false }).format(at);

/** "today 10:42", "yesterday 18:20" or "Tue 25 Aug, 9:05", as the shop's own clock has it. */
export function shortTime(at: Date, now: Date, zone: string): string {
  const day = Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(zone).toPlainDate();
  const today = Temporal.Instant.fromEpochMilliseconds(now.getTime()).toZonedDateTimeISO(zone).toPlainDate();
  const days = day.until(today, { largestUnit: 'day' }).days;
  if (days === 0) return `today ${clockTime(at, zone)}`;
  if (days === 1) return `yesterday ${clockTime(at, zone)}`;
  return `${shortDay(day.toString())}, ${clockTime(at, zone)}`;
}

/** "Fri 28 Aug" for a calendar day; with the year where it is another than this one's. */
export function shortDay(day: string, thisYear?: number): string {
  const at = new Date(`${day}T12:00:00Z`);
  const words = formatter('UTC', 'day', { weekday: 'short', day: 'numeric', month: 'short' })
    .format(at)
    .replace(',', '');
  return thisYear !== undefined && Number(day.slice(0, 4)) !== thisYear
    ? `${words} ${day.slice(0, 4)}`
    : words;
}

/** "about 6 in 10 likely": shares are shown so, never as a percentage that looks exact. */
export function inTen(share: number): string {
  if (share < 0.05) return 'under 1 in 20 likely';
  const tenths = Math.round(share * 10);
  if (tenths >= 10) return 'more than 9 in 10 likely';
  return `about ${Math.max(1, tenths)} in 10 likely`;
}

/** A number as staff write it: +1 202-555-0101 in groups that can be read aloud; addresses as they are. */
export function readable(address: string): string {
  const us = /^\+1(\d{3})(\d{3})(\d{4})$/.exec(address);
  if (us) return `+1 ${us[1]}-${us[2]}-${us[3]}`;
  const uk = /^\+44(\d{4})(\d{6})$/.exec(address);
  if (uk) return `+44 ${uk[1]} ${uk[2]}`;
  return address;
}

/** "9:42 their time"; with a set of zones, both ends. */
export function localTimes(now: Date, zones: readonly string[]): string {
  const times = [...new Set(zones.map((zone) => clockTime(now, zone)))].sort();
  if (times.length === 0) return 'local time not known';
  return times.length === 1 ? `${times[0]} their time` : `${times[0]} to ${times.at(-1)} their time`;
}

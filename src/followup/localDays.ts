import { Temporal } from 'temporal-polyfill';
import { nextCivil } from '../channels/civilHours.ts';

const zoned = (at: Date, zone: string) =>
  Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(zone);

/** The present calendar day in each of the zones, from its first instant up to, and not with, that of the next. */
export function localDaysAt(now: Date, zones: readonly string[]): { fromMs: number; toMs: number }[] {
  return zones.map((zone) => {
    const today = zoned(now, zone).toPlainDate();
    const startOf = (day: Temporal.PlainDate) => day.toZonedDateTime(zone).epochMilliseconds;
    return { fromMs: startOf(today), toMs: startOf(today.add({ days: 1 })) };
  });
}

/** The start of the wearer's present day: where the zone is not sure, the earliest of the candidates. */
export function startOfLocalDay(now: Date, zones: readonly string[]): Date {
  return new Date(Math.min(...zones.map((zone) => zoned(now, zone).startOfDay().epochMilliseconds)));
}

/** The first civil instant of the next day, once that day has begun in every zone. */
export function nextDayCivil(now: Date, zones: readonly string[]): Date {
  const begun = Math.max(
    ...zones.map(
      (zone) => zoned(now, zone).toPlainDate().add({ days: 1 }).toZonedDateTime(zone).epochMilliseconds,
    ),
  );
  return nextCivil(new Date(begun), zones);
}

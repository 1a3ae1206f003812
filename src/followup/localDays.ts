import { Temporal } from 'temporal-polyfill';
import { nextCivil } from '../channels/civilHours.ts';

const zoned = (at: Date, zone: string) =>
  Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(zone);

/** True when two instants fall on one calendar day in any of the zones that the wearer may be in. */
export function sameLocalDay(one: Date, other: Date, zones: readonly string[]): boolean {
  return zones.some((zone) => zoned(one, zone).toPlainDate().equals(zoned(other, zone).toPlainDate()));
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

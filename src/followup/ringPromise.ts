import { Temporal } from 'temporal-polyfill';
import type { Shop } from '../store/shops.ts';
import { hoursOf } from './openHours.ts';

/** Common practice, no source: who asks in the last hour of the day is rung on the next. */
const LEAST_LEFT_MS = 3_600_000;

/**
 * Until when somebody who asked at `since` is to be rung: the wearer is told "in shop hours", so it is the closing time of the
 * open day on which an hour or more is left, by the shop's own clock. A shop that is never open gives the end of the next
 * day.
 */
export function ringBy(shop: Pick<Shop, 'time_zone' | 'settings'>, since: Date): Date {
  const hours = hoursOf(shop);
  const local = Temporal.Instant.fromEpochMilliseconds(since.getTime()).toZonedDateTimeISO(shop.time_zone);
  for (let days = 0; days <= 7; days++) {
    const day = local.toPlainDate().add({ days });
    if (!hours.days.includes(day.dayOfWeek)) continue;
    const close = day
      .toZonedDateTime({ timeZone: shop.time_zone, plainTime: { hour: Math.min(hours.toHour, 23) } })
      .add({ hours: hours.toHour === 24 ? 1 : 0 });
    if (close.epochMilliseconds - since.getTime() >= LEAST_LEFT_MS) return new Date(close.epochMilliseconds);
  }
  return new Date(since.getTime() + 86_400_000);
}

import { Temporal } from 'temporal-polyfill';
import type { Shop } from '../store/shops.ts';
import { MORNING } from './morningLists.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

/**
 * When the clock alone next has something to do for a shop of which nothing else is due: at half past seven of its morning, for
 * the list of the day; and once an hour, in a minute of its own so that shops do not all come at once, for what nobody waits for by
 * the minute: deadlines that draw near, and what is to be forgotten.
 */
export function nextByTheClock(shop: Pick<Shop, 'shop_id' | 'time_zone'>, now: Date): Date {
  const own = minuteOf(shop.shop_id) * MINUTE_MS;
  const passed = (now.getTime() - own) % HOUR_MS;
  const hourly = now.getTime() - passed + HOUR_MS;
  const local = Temporal.Instant.fromEpochMilliseconds(now.getTime()).toZonedDateTimeISO(shop.time_zone);
  const today = local.withPlainTime(MORNING);
  const morning = today.epochMilliseconds > now.getTime() ? today : today.add({ days: 1 });
  return new Date(Math.min(hourly, morning.epochMilliseconds));
}

/** The same minute for the same shop always. */
const minuteOf = (shopId: string): number =>
  [...shopId].reduce((sum, sign) => (sum * 31 + sign.charCodeAt(0)) % 60_000, 7) % 60;

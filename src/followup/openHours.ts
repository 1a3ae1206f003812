import { Temporal } from 'temporal-polyfill';
import type { Shop } from '../store/shops.ts';

/** Common practice, no source: weekdays and Saturday, nine to five, until the shop sets its own. */
const USUAL = { fromHour: 9, toHour: 17, days: [1, 2, 3, 4, 5, 6] } as const;

/** True while the shop is open by its own clock. Days count from Monday = 1 to Sunday = 7. */
export function isOpen(shop: Pick<Shop, 'time_zone' | 'settings'>, now: Date): boolean {
  const hours = hoursOf(shop);
  const local = Temporal.Instant.fromEpochMilliseconds(now.getTime()).toZonedDateTimeISO(shop.time_zone);
  return hours.days.includes(local.dayOfWeek) && local.hour >= hours.fromHour && local.hour < hours.toHour;
}

/** The hours that the shop has set, else the usual ones. */
export const hoursOf = (shop: Pick<Shop, 'settings'>) => shop.settings.openHours ?? USUAL;

import { Temporal } from 'temporal-polyfill';
import { type AlarmCall, type CallWay, type OnCall, peopleOnCall } from '../store/alarms.ts';
import type { Db, Trx } from '../store/database.ts';
import type { Shop } from '../store/shops.ts';
import type { Shell } from './shell.ts';

export type Reachable = OnCall & { readonly ways: readonly CallWay[] };

/** The people on call who can be told by a carrier that is switched on, in order. Empty: no alarm way works. */
export async function reachablePeople(
  db: Db | Trx,
  carrier: Shell['carrier'],
  shopId: string,
): Promise<Reachable[]> {
  const people = await peopleOnCall(db, shopId);
  return people
    .map((person) => ({ ...person, ways: waysTo(person, carrier, shopId) }))
    .filter((person) => person.ways.length > 0);
}

function waysTo(person: OnCall, carrier: Shell['carrier'], shopId: string): CallWay[] {
  const ways: CallWay[] = [];
  if (person.phone_e164 !== null && carrier(shopId, 'text')) {
    ways.push({ channel: 'text', address: person.phone_e164 });
  }
  if (person.email !== null && carrier(shopId, 'email')) {
    ways.push({ channel: 'email', address: person.email });
  }
  return ways;
}

/** Those whose hours it is; where it is nobody's, all of them, since danger does not wait for a shift. */
export function onDuty(
  people: readonly Reachable[],
  shop: Pick<Shop, 'time_zone'>,
  now: Date,
): readonly Reachable[] {
  const local = Temporal.Instant.fromEpochMilliseconds(now.getTime()).toZonedDateTimeISO(shop.time_zone);
  const here = people.filter(
    ({ hours }) =>
      hours === null ||
      (hours.days.includes(local.dayOfWeek) && local.hour >= hours.fromHour && local.hour < hours.toHour),
  );
  return here.length > 0 ? here : people;
}

/**
 * Whose turn it is: the first; the same once more; then the next, each twice, and round again. Who could not be reached at all
 * is not waited for.
 */
export function whoseTurn(
  people: readonly Reachable[],
  calls: readonly Pick<AlarmCall, 'round' | 'person_id' | 'state'>[],
): Reachable | undefined {
  const last = calls.at(-1);
  const at = people.findIndex((person) => person.person_id === last?.person_id);
  if (!last || at < 0) return people[0];
  const reached = calls.some((call) => call.round === last.round && call.state === 'accepted');
  const before = calls.find((call) => call.round === last.round - 1);
  const onceOnly = before?.person_id !== last.person_id;
  return reached && onceOnly ? people[at] : people[(at + 1) % people.length];
}

import { Temporal } from 'temporal-polyfill';
import { type MorningLine, type MorningList, morningMail } from '../../templates/morningList.ts';
import { claimsOf } from '../store/claims.ts';
import { shopCounts } from '../store/counts.ts';
import { claimMorning, jobKeysOf, settleMorning } from '../store/morningLists.ts';
import { allShops, type Person, people, type Shop } from '../store/shops.ts';
import { claimStands } from './claimStands.ts';
import { hoursOf } from './openHours.ts';
import { localDay } from './planSlots.ts';
import { type RingEntry, ringList } from './ringList.ts';
import type { Shell } from './shell.ts';
import { endingSoon } from './watchDeadlines.ts';

/** The list goes at half past seven of the shop's clock; after noon a list that was missed is no morning list. */
export const MORNING = Temporal.PlainTime.from('07:30');
const UP_TO = Temporal.PlainTime.from('12:00');
const MOST_CLAIMS = 200;

/**
 * Mails each person of an open shop the list of the day, once a day. It is claimed before it is sent: a crash in between costs
 * one list, and never sends it twice. Returns how many went.
 */
export async function sendMorningLists(shell: Shell): Promise<number> {
  const now = shell.clock.now();
  let sent = 0;
  for (const shop of await allShops(shell.db)) {
    if (!isMorning(shop, now) || !shell.carrier(shop.shop_id, 'email')) continue;
    const day = localDay(now, shop.time_zone);
    const waiting: Person[] = [];
    for (const person of await people(shell.db, shop.shop_id)) {
      if (!person.active || person.email === null) continue;
      if (await claimMorning(shell.db, shop.shop_id, person.person_id, day, now)) waiting.push(person);
    }
    if (waiting.length === 0) continue;
    const list = await morningList(shell, shop, now);
    for (const person of waiting) sent += await mail(shell, shop, person, list, day);
  }
  return sent;
}

/** From half past seven to noon of a day on which the shop is open. */
export function isMorning(shop: Pick<Shop, 'time_zone' | 'settings'>, now: Date): boolean {
  const local = Temporal.Instant.fromEpochMilliseconds(now.getTime()).toZonedDateTimeISO(shop.time_zone);
  const time = local.toPlainTime();
  return (
    (hoursOf(shop).days as readonly number[]).includes(local.dayOfWeek) &&
    Temporal.PlainTime.compare(time, MORNING) >= 0 &&
    Temporal.PlainTime.compare(time, UP_TO) < 0
  );
}

type ForAll = Omit<MorningList, 'firstName' | 'heldByYou'> & { readonly holders: readonly (string | null)[] };

async function mail(shell: Shell, shop: Shop, person: Person, list: ForAll, day: string): Promise<number> {
  const { holders, ...rest } = list;
  const words = morningMail({
    ...rest,
    firstName: person.name.split(/\s+/)[0] ?? '',
    heldByYou: holders.filter((holder) => holder === person.name).length,
  });
  const settle = (state: string) => settleMorning(shell.db, shop.shop_id, person.person_id, day, state);
  if (!words) {
    await settle('nothing to tell');
    return 0;
  }
  try {
    const result = await shell.carrier(shop.shop_id, 'email')!.send({
      attemptId: `morning-${person.person_id}-${day}`,
      to: person.email!,
      ...words,
    });
    await settle(result.state);
    return result.state === 'accepted' ? 1 : 0;
  } catch (error) {
    shell.log.warn(
      { shop: shop.shop_id, person: person.person_id, error: String(error) },
      'a morning list was not sent',
    );
    await settle('unsure');
    return 0;
  }
}

async function morningList(shell: Shell, shop: Shop, now: Date): Promise<ForAll> {
  const { db } = shell;
  const shopId = shop.shop_id;
  const today = localDay(now, shop.time_zone);
  const counts = await shopCounts(db, shopId);
  const ring = await ringList(db, shop, now);
  const keys = await jobKeysOf(
    db,
    shopId,
    ring.map((entry) => entry.wearerId),
  );
  const claims = await claimsOf(db, shopId, today, MOST_CLAIMS);
  const open = await db
    .selectFrom('case_file')
    .select('held_by')
    .where('shop_id', '=', shopId)
    .where('closed_at', 'is', null)
    .execute();
  return {
    shopName: shop.name,
    day: dayWords(now, shop.time_zone),
    danger: counts.danger,
    cases: counts.cases,
    tray: counts.tray,
    claims: claims.filter((claim) => claimStands(claim, today).reminder !== null).length,
    toRing: ring.map((entry) => ringLine(entry, keys.get(entry.wearerId) ?? '', shop)),
    endsSoon: (await endingSoon(db, shop, now)).map(({ wearer, job_key, deadline }) => ({
      initial: initialOf(wearer),
      job: job_key,
      what: `${deadline.whose === 'lab' ? 'the lab’s remake window' : 'our promise'}, last day ${deadline.lastDay}`,
    })),
    holders: open.map((row) => row.held_by),
  };
}

/** Reasons without a word of the wearer's and without what is wrong with them. */
const WHY: Readonly<Record<RingEntry['reasons'][number]['kind'], string>> = {
  danger: 'ring first',
  asked: 'asked to be rung',
  act: 'talk it through',
  unreached: 'messages do not arrive',
  'no word': 'posted, no word',
  foretold: 'ring early',
  'check-in': 'likes to be rung',
};

function ringLine(entry: RingEntry, job: string, shop: Shop): MorningLine {
  const why = entry.reasons.map((reason) => WHY[reason.kind]).join(', ');
  const by = entry.promisedBy === null ? '' : `; promised by ${timeWords(entry.promisedBy, shop.time_zone)}`;
  return { initial: initialOf(entry.wearer), job, what: `${why}${by}` };
}

const initialOf = (name: string): string => [...name.trim()][0]?.toUpperCase() ?? '?';

function dayWords(at: Date, zone: string): string {
  return new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    weekday: 'short',
    day: 'numeric',
    month: 'short',
  })
    .format(at)
    .replace(',', '');
}

function timeWords(at: Date, zone: string): string {
  const time = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    hour: '2-digit',
    minute: '2-digit',
  }).format(at);
  return `${dayWords(at, zone)} ${time}`;
}

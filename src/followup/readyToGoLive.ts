import { cautionReady } from '../../templates/renderMessage.ts';
import { findShop, people } from '../store/shops.ts';
import { shopTicks } from '../store/shopTicks.ts';
import { reachablePeople } from './alarmPeople.ts';
import { consentWords } from './consentWords.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';
import { shopWords } from './words.ts';

/** What the settings name of the world outside; a way that is not named is not used. */
export type NamedOutside = {
  /** Where carrier and wearers reach us. */
  readonly address?: string | undefined;
  /** The number or service that texts come from. */
  readonly sender?: string | undefined;
  readonly mailbox?: string | undefined;
};

export const LIVE_TICKS = [
  'address',
  'sender',
  'mailbox',
  'local numbers',
  'on call',
  'hours',
  'consent words',
  'licensed person',
  'backup tried',
] as const;
export type LiveTick = { readonly tick: (typeof LIVE_TICKS)[number]; readonly done: boolean };

/** What stands on record for a way that is left out on purpose. */
export const WITHOUT = 'none: done without';

/**
 * The nine ticks before a shop goes live, in their order. What was tried counts for the settings with which it was tried: a new
 * number, mailbox, address or new consent words are to be tried, or read, again.
 */
export async function ticksBeforeLive(
  shell: Pick<Shell, 'db' | 'clock'>,
  carrier: Shell['carrier'],
  shopId: string,
  named: NamedOutside,
): Promise<readonly LiveTick[]> {
  const shop = await findShop(shell.db, shopId);
  const tried = await shopTicks(shell.db, shopId);
  const today = localDay(shell.clock.now(), shop.time_zone);
  const here = (await people(shell.db, shopId)).filter((person) => person.active);
  const wayStands = (tick: 'sender' | 'mailbox', other: 'sender' | 'mailbox') =>
    named[tick] === undefined ? named[other] !== undefined : tried.get(tick) === named[tick];
  const done: Readonly<Record<LiveTick['tick'], boolean>> = {
    address: tried.get('address') === (named.address ?? WITHOUT),
    sender: wayStands('sender', 'mailbox'),
    mailbox: wayStands('mailbox', 'sender'),
    'local numbers': cautionReady(shopWords(shop)),
    'on call': (await reachablePeople(shell.db, carrier, shopId)).length > 0,
    hours: shop.settings.openHours !== undefined && !!shop.settings.phone,
    'consent words': tried.get('consent words') === consentWords(shop),
    'licensed person': here.some((one) => one.licensed_until !== null && one.licensed_until >= today),
    'backup tried': tried.has('backup tried'),
  };
  return LIVE_TICKS.map((tick) => ({ tick, done: done[tick] }));
}

/** What keeps real carriers off although they are set. Empty: they may be used. */
export async function keepsOff(
  shell: Pick<Shell, 'db' | 'clock'>,
  carrier: Shell['carrier'],
  shopId: string,
  named: NamedOutside,
): Promise<string[]> {
  const ticks = await ticksBeforeLive(shell, carrier, shopId, named);
  return ticks.filter((one) => !one.done).map((one) => one.tick);
}

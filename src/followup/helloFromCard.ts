import type { Trx } from '../store/database.ts';
import { planOf } from '../store/plans.ts';
import { changeConsent, contactsOf, type Wearer } from '../store/wearers.ts';
import { arrived } from './arrived.ts';
import type { Linked } from './link.ts';
import { localDay } from './planSlots.ts';
import { preferAgreed } from './preferAgreed.ts';
import type { Inbound } from './sortInbound.ts';

const HELLO = new Set(['hello', 'hola']);

/** The one word that the card in the parcel asks for, by text and nothing beside it. */
export const isHello = (inbound: Pick<Inbound, 'channel' | 'body'>): boolean =>
  inbound.channel === 'text' && HELLO.has(inbound.body.toLowerCase().replace(/[^\p{L}]+/gu, ''));

/**
 * HELLO, as the card in the parcel asks for it, is three things in one: consent to texts (the card says so), proof that the
 * number is theirs, and the day on which the glasses were first worn. False where it can be no answer to a card: the pair is
 * known to have come and texts were agreed to already, so that it is a greeting like any other.
 */
export async function takeHello(
  trx: Trx,
  shopId: string,
  wearer: Wearer,
  linked: Linked,
  inbound: Inbound,
  now: Date,
): Promise<boolean> {
  const contacts = await contactsOf(trx, shopId, wearer.wearer_id);
  const agreed = contacts.some((one) => one.channel === 'text' && one.consent === 'given');
  const waits = linked.pairId === null ? undefined : await planOf(trx, shopId, linked.pairId);
  const paused = waits?.state === 'paused';
  if (agreed && !paused) return false;
  if (!agreed) {
    await preferAgreed(trx, shopId, wearer, ['text']);
    await changeConsent(
      trx,
      shopId,
      {
        wearerId: wearer.wearer_id,
        channels: ['text'],
        act: 'given',
        basis: 'the card in the parcel: who texts HELLO agrees',
        words: inbound.body,
        by: 'the wearer',
      },
      now,
    );
  }
  if (paused && linked.pairId !== null) {
    const day = localDay(inbound.receivedAt, wearer.zone_candidates[0]!);
    await arrived(trx, shopId, wearer, linked.pairId, day, 'said by the wearer', now);
  }
  return true;
}

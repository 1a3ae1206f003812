import { cautionReady } from '../../templates/renderMessage.ts';
import type { StopDecision } from '../channels/optOut.ts';
import type { Trx } from '../store/database.ts';
import { writeMessage } from '../store/messages.ts';
import type { Shop } from '../store/shops.ts';
import { contactsOf, findWearer, type ReachableContact } from '../store/wearers.ts';
import type { Linked } from './link.ts';
import { isOpen } from './openHours.ts';
import { localDay } from './planSlots.ts';
import type { Inbound, Understood } from './sortInbound.ts';
import { type Said, say, shopWords } from './words.ts';

/**
 * What is not kept waiting for two minutes: the caution after a danger sign, the one confirmation of a stop, of a start, and
 * the answer to "who is this". A stop in the same message as danger is obeyed for all but the caution.
 */
export async function sendAtOnce(
  trx: Trx,
  shop: Shop,
  linked: Linked,
  inbound: Inbound,
  reading: Understood,
  decision: StopDecision,
  now: Date,
): Promise<void> {
  const caution = decision.urgent && cautionReady(shopWords(shop));
  if (!caution && !decision.confirm) return;
  const wearerId = linked.wearerId ?? linked.possible[0];
  const wearer = wearerId === undefined ? undefined : await findWearer(trx, shop.shop_id, wearerId);
  if (!wearer) return;
  const contacts = await contactsOf(trx, shop.shop_id, wearer.wearer_id);
  const here =
    contacts.find((one) => one.contact_id === linked.contactId) ??
    // Written from an address that is not on record: the one on record of the same channel is answered.
    contacts.find((one) => one.channel === inbound.channel) ??
    contacts[0];
  if (!here) return;
  const send = (
    purpose: string,
    said: Said,
    kind: { mustArrive?: boolean; anyHour?: boolean },
    to: ReachableContact = here,
  ) =>
    writeMessage(
      trx,
      shop.shop_id,
      {
        onceKey: `${purpose}:${inbound.inboundId}`,
        wearerId: wearer.wearer_id,
        pairId: linked.pairId,
        purpose,
        unasked: false,
        automatic: true,
        ...kind,
        channel: to.channel,
        contactId: to.contact_id,
        ...said,
        inAnswerTo: inbound.inboundId,
        localDay: localDay(now, wearer.zone_candidates[0]!),
        sendAt: now,
      },
      now,
    );

  if (caution) {
    const to =
      here.unusable_why === null
        ? here
        : (contacts.find((one) => one.unusable_why === null && one.consent === 'given') ?? here);
    const danger = reading.labels.includes('urgent-eye') ? 'eye' : 'fall';
    const hours = isOpen(shop, now) ? 'open' : 'closed';
    await send(
      'caution',
      say(shop, wearer, to.channel, { purpose: 'caution', danger, hours }),
      { mustArrive: true, anyHour: true },
      to,
    );
  }
  if (!decision.confirm) return;
  if (decision.action === 'stop' && decision.numberBad) {
    await send('wrong number', say(shop, wearer, here.channel, { purpose: 'wrong-number' }), {
      anyHour: true,
    });
  } else if (decision.action === 'stop') {
    const { channels } = decision;
    await send('stop confirmed', say(shop, wearer, here.channel, { purpose: 'stop-done', channels }), {
      anyHour: true,
    });
  } else if (decision.action === 'start') {
    await send('start confirmed', say(shop, wearer, here.channel, { purpose: 'resume-done' }), {});
  } else if (decision.action === 'help' && here.consent !== 'withdrawn') {
    // Who said stop before gets no answer, not even to "who is this": a person reads it in the tray.
    await send('help', say(shop, wearer, here.channel, { purpose: 'help' }), { anyHour: true });
  }
}

import type { Selectable } from 'kysely';
import type { Letter } from '../../templates/types.ts';
import type { Trx } from '../store/database.ts';
import { writeMessage } from '../store/messages.ts';
import { findShop } from '../store/shops.ts';
import type { ChannelKind, Tables } from '../store/tables.ts';
import { contactsOf, findWearer } from '../store/wearers.ts';
import { ASK_DAYS } from './planSlots.ts';
import { type Said, say } from './words.ts';

type Message = Selectable<Tables['message']>;

const BY_OTHER_WAY = ' by the other way';

/**
 * Writes a message once more for the wearer's other channel, if they have agreed to it and it can be used; gives the channel,
 * or undefined where there is none. Never a third time, and what was written for an email never becomes a text as it is.
 */
export async function sendOtherWay(trx: Trx, message: Message, now: Date): Promise<ChannelKind | undefined> {
  const shopId = message.shop_id;
  if (message.once_key.endsWith(BY_OTHER_WAY)) return undefined;
  const wearer = await findWearer(trx, shopId, message.wearer_id);
  const to = (await contactsOf(trx, shopId, message.wearer_id)).find(
    (one) => one.channel !== message.channel && one.consent === 'given' && one.unusable_why === null,
  );
  if (!wearer || !to) return undefined;
  const shop = await findShop(trx, shopId);
  const letter = letterOf(message.template);
  const said: Said | undefined = letter
    ? say(shop, wearer, to.channel, letter)
    : to.channel === 'email'
      ? { subject: shop.name, body: message.body, html: null, template: message.template ?? '' }
      : undefined;
  if (!said) return undefined;
  await writeMessage(
    trx,
    shopId,
    {
      onceKey: `${message.once_key}${BY_OTHER_WAY}`,
      wearerId: message.wearer_id,
      pairId: message.pair_id,
      caseId: message.case_id,
      checkInId: message.check_in_id,
      purpose: message.purpose,
      // It is the same message: the day's one unasked message was counted when it was first written.
      unasked: false,
      automatic: message.automatic,
      mustArrive: message.must_arrive,
      anyHour: message.any_hour,
      channel: to.channel,
      contactId: to.contact_id,
      ...said,
      ...(message.asked === null ? {} : { asked: message.asked }),
      inAnswerTo: message.in_answer_to,
      writtenBy: message.written_by,
      localDay: message.local_day,
      sendAt: now,
    },
    now,
  );
  return to.channel;
}

/** The letters whose words are known from the template alone; of others only the words themselves are on record. */
function letterOf(template: string | null): Letter | undefined {
  const [purpose, detail = ''] = (template ?? '').split(/[.@]/);
  if (purpose === 'caution') {
    const [danger, hours] = detail.split('-');
    if (danger === 'eye' || danger === 'fall') {
      return { purpose, danger, hours: hours === 'open' ? 'open' : 'closed' };
    }
  }
  if (purpose === 'check-in') {
    const day = ASK_DAYS.find((one) => detail === `day-${one}`);
    if (day !== undefined) return { purpose, day };
  }
  return purpose === 'have-they-come' || purpose === 'help' || purpose === 'resume-done'
    ? { purpose }
    : undefined;
}

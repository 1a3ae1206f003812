import { tokenHash } from '../channels/tokens.ts';
import type { Db, Trx } from '../store/database.ts';
import { pairsOf } from '../store/jobs.ts';
import type { ChannelKind } from '../store/tables.ts';
import { addDays } from './planSlots.ts';

/** A reply is linked by number only to a wearer whose glasses were first worn within so many days. */
export const LINK_DAYS = 60;

export type Sender = {
  readonly channel: string;
  readonly from: string;
  readonly replyToken?: string;
  /** Far ids of the messages that this one answers (email threads). */
  readonly inReplyTo?: readonly string[];
  /** Set where staff or a signed page already know who it is. */
  readonly wearerId?: string;
  /** It came by the wearer's own signed link. */
  readonly byLink?: boolean;
};

export type Linked = {
  readonly wearerId: string | null;
  readonly pairId: string | null;
  readonly how: string;
  readonly trayWhy: string | null;
  /** Everyone who may be meant: a stop by words counts for all of them. */
  readonly possible: readonly string[];
  readonly contactId: string | null;
};

/**
 * Whose reply is it? By reply token, by thread, by the one open question, by the one wearer of that number with a pair under
 * 60 days; else it goes to the tray. Never by guess.
 */
export async function link(trx: Trx, shopId: string, sender: Sender, today: string): Promise<Linked> {
  const contact = await contactOf(trx, shopId, sender);
  const possible = contact ? await wearersOf(trx, shopId, contact.contact_id) : [];
  const contactId = contact?.contact_id ?? null;
  const to = async (wearerId: string, how: string): Promise<Linked> => ({
    wearerId,
    pairId: await newestPair(trx, shopId, wearerId),
    how,
    trayWhy: null,
    possible: possible.includes(wearerId) ? possible : [...possible, wearerId],
    contactId,
  });
  const toTray = (trayWhy: string): Linked => ({
    wearerId: null,
    pairId: null,
    how: 'not linked',
    trayWhy,
    possible,
    contactId,
  });

  if (sender.wearerId !== undefined) {
    return to(sender.wearerId, sender.byLink ? 'their own link' : 'known to staff');
  }
  if (sender.replyToken !== undefined) {
    const told = await byToken(trx, shopId, sender.replyToken);
    if (told) return to(told, 'reply token');
  }
  for (const farId of sender.inReplyTo ?? []) {
    const told = await byThread(trx, shopId, farId);
    if (told) return to(told, 'thread');
  }
  if (!contact || possible.length === 0) return toTray('unknown sender');
  const asked = await withOpenQuestion(trx, shopId, contact.contact_id, possible);
  if (asked.length === 1) return to(asked[0]!, 'the one open question');
  const since = addDays(today, -LINK_DAYS);
  const fresh = new Set(
    (await pairsOf(trx, shopId, possible)).filter((p) => p.first_worn_on > since).map((p) => p.wearer_id),
  );
  if (fresh.size === 1) return to([...fresh][0]!, 'the one wearer of this address');
  return toTray(fresh.size === 0 ? 'no pair under 60 days' : 'two wearers possible');
}

async function contactOf(trx: Trx, shopId: string, sender: Sender) {
  if (sender.channel !== 'text' && sender.channel !== 'email') return undefined;
  return trx
    .selectFrom('contact_point')
    .select('contact_id')
    .where('shop_id', '=', shopId)
    .where('channel', '=', sender.channel as ChannelKind)
    .where('address', '=', sender.channel === 'email' ? sender.from.toLowerCase() : sender.from)
    .executeTakeFirst();
}

async function wearersOf(trx: Trx, shopId: string, contactId: string): Promise<string[]> {
  const rows = await trx
    .selectFrom('wearer_contact')
    .select('wearer_id')
    .where('shop_id', '=', shopId)
    .where('contact_id', '=', contactId)
    .execute();
  return rows.map((row) => row.wearer_id);
}

async function newestPair(trx: Trx, shopId: string, wearerId: string): Promise<string | null> {
  const [pair] = await pairsOf(trx, shopId, [wearerId]);
  return pair?.pair_id ?? null;
}

async function byToken(trx: Trx, shopId: string, token: string): Promise<string | undefined> {
  const row = await trx
    .selectFrom('token as t')
    .innerJoin('message as m', (join) =>
      join.onRef('m.shop_id', '=', 't.shop_id').onRef('m.message_id', '=', 't.subject_id'),
    )
    .select('m.wearer_id')
    .where('t.shop_id', '=', shopId)
    .where('t.token_hash', '=', tokenHash(token))
    .where('t.purpose', '=', 'reply')
    .executeTakeFirst();
  return row?.wearer_id;
}

async function byThread(trx: Trx, shopId: string, farId: string): Promise<string | undefined> {
  const row = await trx
    .selectFrom('attempt as a')
    .innerJoin('message as m', (join) =>
      join.onRef('m.shop_id', '=', 'a.shop_id').onRef('m.message_id', '=', 'a.message_id'),
    )
    .select('m.wearer_id')
    .where('a.shop_id', '=', shopId)
    .where('a.far_id', '=', farId)
    .executeTakeFirst();
  return row?.wearer_id;
}

/** The wearers of a contact point who were asked something there and have not written since. */
async function withOpenQuestion(
  trx: Trx,
  shopId: string,
  contactId: string,
  wearerIds: readonly string[],
): Promise<string[]> {
  const open: string[] = [];
  for (const wearerId of wearerIds) {
    const asked = await newestQuestion(trx, shopId, wearerId, contactId);
    if (!asked) continue;
    const answered = await trx
      .selectFrom('inbound_standing')
      .select('inbound_id')
      .where('shop_id', '=', shopId)
      .where('wearer_id', '=', wearerId)
      .where('received_at', '>', asked.created_at)
      .limit(1)
      .executeTakeFirst();
    if (!answered) open.push(wearerId);
  }
  return open;
}

export type QuestionAsked = {
  message_id: string;
  asked: unknown;
  created_at: Date;
  pair_id: string | null;
  case_id: string | null;
};

/** The newest question that was put to a wearer before `before`, over one contact point or any. */
export async function newestQuestion(
  db: Db | Trx,
  shopId: string,
  wearerId: string,
  contactId?: string,
  before?: Date,
): Promise<QuestionAsked | undefined> {
  let query = db
    .selectFrom('message as m')
    .select(['m.message_id', 'm.asked', 'm.created_at', 'm.pair_id', 'm.case_id'])
    .where('m.shop_id', '=', shopId)
    .where('m.wearer_id', '=', wearerId)
    .where('m.asked', 'is not', null)
    .where((exists) =>
      exists.exists(
        exists
          .selectFrom('attempt as a')
          .select('a.attempt_id')
          .whereRef('a.shop_id', '=', 'm.shop_id')
          .whereRef('a.message_id', '=', 'm.message_id')
          .where('a.state', 'in', ['handed over', 'accepted', 'unsure', 'delivered']),
      ),
    );
  if (contactId !== undefined) query = query.where('m.contact_id', '=', contactId);
  if (before !== undefined) query = query.where('m.created_at', '<=', before);
  return query.orderBy('m.created_at', 'desc').limit(1).executeTakeFirst();
}

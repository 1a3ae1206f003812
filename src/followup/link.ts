import { tokenHash } from '../channels/tokens.ts';
import type { Trx } from '../store/database.ts';
import { pairsOf } from '../store/jobs.ts';
import { type MayHaveWritten, wearersAt } from '../store/senders.ts';
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
  const there = await behindAddress(trx, shopId, sender);
  const contactId = there[0]?.contact_id ?? null;
  const known = there.filter((one): one is Known => one.wearer_id !== null);
  const possible = known.map((one) => one.wearer_id);
  const to = async (wearerId: string, how: string): Promise<Linked> => ({
    wearerId,
    pairId:
      known.find((one) => one.wearer_id === wearerId)?.newest_pair?.pair_id ??
      (await newestPair(trx, shopId, wearerId)),
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
  if (known.length === 0) return toTray('unknown sender');
  const asked = known.filter((one) => one.has_open_question);
  if (asked.length === 1) return to(asked[0]!.wearer_id, 'the one open question');
  const since = addDays(today, -LINK_DAYS);
  const fresh = known.filter((one) => one.newest_pair !== null && one.newest_pair.first_worn_on > since);
  if (fresh.length === 1) return to(fresh[0]!.wearer_id, 'the one wearer of this address');
  return toTray(fresh.length === 0 ? 'no pair under 60 days' : 'two wearers possible');
}

type Known = MayHaveWritten & { readonly wearer_id: string };

async function behindAddress(trx: Trx, shopId: string, sender: Sender): Promise<MayHaveWritten[]> {
  if (sender.channel !== 'text' && sender.channel !== 'email') return [];
  const address = sender.channel === 'email' ? sender.from.toLowerCase() : sender.from;
  return wearersAt(trx, shopId, sender.channel, address);
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

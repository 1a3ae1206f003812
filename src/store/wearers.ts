import type { Selectable } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { ChannelKind, Tables } from './tables.ts';

export type Wearer = Selectable<Tables['wearer']>;

export type ReachableContact = {
  contact_id: string;
  channel: ChannelKind;
  address: string;
  consent: 'none' | 'given' | 'withdrawn';
  unusable_why: string | null;
};

export async function findWearer(
  db: Db | Trx,
  shopId: string,
  wearerId: string,
): Promise<Wearer | undefined> {
  return db
    .selectFrom('wearer')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .executeTakeFirst();
}

/** Locks a wearer for one piece of work, so that two processes never decide about the same wearer at once. */
export async function lockWearer(trx: Trx, shopId: string, wearerId: string): Promise<Wearer | undefined> {
  return trx
    .selectFrom('wearer')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .forUpdate()
    .executeTakeFirst();
}

export async function contactsOf(
  db: Db | Trx,
  shopId: string,
  wearerId: string,
): Promise<ReachableContact[]> {
  return db
    .selectFrom('wearer_contact as wc')
    .innerJoin('contact_point as c', (join) =>
      join.onRef('c.shop_id', '=', 'wc.shop_id').onRef('c.contact_id', '=', 'wc.contact_id'),
    )
    .select(['c.contact_id', 'c.channel', 'c.address', 'wc.consent', 'c.unusable_why'])
    .where('wc.shop_id', '=', shopId)
    .where('wc.wearer_id', '=', wearerId)
    .orderBy('c.created_at')
    .execute();
}

export type ConsentChange = {
  readonly wearerId: string;
  /** The channel that the words were about; both when they named none. */
  readonly channels: readonly ChannelKind[];
  readonly act: 'given' | 'withdrawn' | 'refused';
  readonly basis: string;
  readonly words: string | null;
  readonly by: string;
};

/** Appends the consent event and moves the kept standing with it, in the caller's transaction. */
export async function changeConsent(
  trx: Trx,
  shopId: string,
  change: ConsentChange,
  at: Date,
): Promise<void> {
  for (const channel of change.channels) {
    await trx
      .insertInto('consent_event')
      .values({
        shop_id: shopId,
        consent_id: newId(at),
        wearer_id: change.wearerId,
        contact_id: null,
        channel,
        act: change.act,
        basis: change.basis,
        words: change.words,
        recorded_by: change.by,
        at,
      })
      .execute();
    await trx
      .updateTable('wearer_contact')
      .set({ consent: change.act === 'given' ? 'given' : 'withdrawn', consent_at: at })
      .where('shop_id', '=', shopId)
      .where('wearer_id', '=', change.wearerId)
      .where('channel', '=', channel)
      .execute();
  }
}

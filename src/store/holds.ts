import type { Selectable } from 'kysely';
import type { Db, Trx } from './database.ts';
import type { ChannelKind, Tables } from './tables.ts';

export type Hold = Selectable<Tables['channel_hold']>;

/** Channels that wait, of all shops: few, as a rule none. */
export async function holds(db: Db | Trx): Promise<Hold[]> {
  return db.selectFrom('channel_hold').selectAll().execute();
}

export async function holdChannel(trx: Trx, hold: Hold): Promise<void> {
  const { code, why, try_at } = hold;
  await trx
    .insertInto('channel_hold')
    .values(hold)
    .onConflict((clash) => clash.columns(['shop_id', 'channel']).doUpdateSet({ code, why, try_at }))
    .execute();
}

/** Moves the next try; false when another message is the try already. */
export async function takeTry(db: Db, hold: Hold, nextTry: Date): Promise<boolean> {
  const done = await db
    .updateTable('channel_hold')
    .set({ try_at: nextTry })
    .where('shop_id', '=', hold.shop_id)
    .where('channel', '=', hold.channel)
    .where('try_at', '=', hold.try_at)
    .executeTakeFirst();
  return done.numUpdatedRows === 1n;
}

export async function liftHold(db: Db, shopId: string, channel: ChannelKind): Promise<void> {
  await db.deleteFrom('channel_hold').where('shop_id', '=', shopId).where('channel', '=', channel).execute();
}

import type { Db, Trx } from './database.ts';

/** Puts on record that something was tried before the shop goes live, or tried again. */
export async function noteTick(
  trx: Trx,
  shopId: string,
  tick: string,
  by: string,
  detail: string,
  at: Date,
): Promise<void> {
  await trx
    .insertInto('shop_tick')
    .values({ shop_id: shopId, tick, at, by_name: by, detail })
    .onConflict((clash) => clash.columns(['shop_id', 'tick']).doUpdateSet({ at, by_name: by, detail }))
    .execute();
}

/** What was tried or confirmed, with what it was tried. */
export async function shopTicks(db: Db | Trx, shopId: string): Promise<ReadonlyMap<string, string>> {
  const rows = await db
    .selectFrom('shop_tick')
    .select(['tick', 'detail'])
    .where('shop_id', '=', shopId)
    .execute();
  return new Map(rows.map((row) => [row.tick, row.detail]));
}

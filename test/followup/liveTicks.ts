import { consentWords } from '../../src/followup/consentWords.ts';
import { LIVE_TICKS, type NamedOutside, WITHOUT } from '../../src/followup/readyToGoLive.ts';
import type { Db } from '../../src/store/database.ts';
import { findShop, keepSettings } from '../../src/store/shops.ts';

/** Puts on record all that must be there before real carriers may be used, but for numbers, people on call and local help. */
export async function tickAll(db: Db, shopId: string, named: NamedOutside): Promise<void> {
  const shop = await findShop(db, shopId);
  const details: Readonly<Record<string, string | undefined>> = {
    address: named.address ?? WITHOUT,
    sender: named.sender,
    mailbox: named.mailbox,
    'consent words': consentWords(shop),
    'backup tried': 'tried',
  };
  for (const tick of LIVE_TICKS) {
    const detail = details[tick];
    if (detail === undefined) continue;
    await db
      .insertInto('shop_tick')
      .values({ shop_id: shopId, tick, at: new Date(0), by_name: 'test', detail })
      .onConflict((clash) => clash.columns(['shop_id', 'tick']).doUpdateSet({ detail }))
      .execute();
  }
  const openHours = { fromHour: 9, toHour: 17, days: [1, 2, 3, 4, 5, 6] };
  await keepSettings(db, shopId, { ...shop.settings, openHours });
  await db
    .updateTable('person')
    .set({ licence_number: 'test', licensed_until: '2099-12-31' })
    .where('shop_id', '=', shopId)
    .execute();
}

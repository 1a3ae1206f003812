import type { Selectable } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { ShopSettings, Tables } from './tables.ts';

export type Shop = Selectable<Tables['shop']>;
export type Person = Selectable<Tables['person']>;

export async function findShop(db: Db | Trx, shopId: string): Promise<Shop> {
  return db.selectFrom('shop').selectAll().where('shop_id', '=', shopId).executeTakeFirstOrThrow();
}

/** The one shop of an embedded database, if it has been set up. */
export async function firstShop(db: Db): Promise<Shop | undefined> {
  return db.selectFrom('shop').selectAll().orderBy('created_at').limit(1).executeTakeFirst();
}

export type NewShop = {
  readonly shopId: string;
  readonly name: string;
  readonly kind: 'own' | 'invented';
  readonly country: string;
  readonly timeZone: string;
  readonly settings: ShopSettings;
  readonly owner: { readonly name: string; readonly email?: string; readonly phoneE164?: string };
};

export async function openShop(db: Db, shop: NewShop, at: Date): Promise<void> {
  await db.transaction().execute(async (trx) => {
    await trx
      .insertInto('shop')
      .values({
        shop_id: shop.shopId,
        name: shop.name,
        kind: shop.kind,
        country: shop.country,
        time_zone: shop.timeZone,
        settings: JSON.stringify(shop.settings),
        created_at: at,
      })
      .onConflict((clash) => clash.column('shop_id').doNothing())
      .execute();
    await trx
      .insertInto('person')
      .values({
        shop_id: shop.shopId,
        person_id: newId(at),
        name: shop.owner.name,
        email: shop.owner.email ?? null,
        phone_e164: shop.owner.phoneE164 ?? null,
        role: 'owner',
        licence_number: null,
        licensed_until: null,
        on_call_order: 1,
        created_at: at,
      })
      .execute();
  });
}

export async function keepClockOffset(db: Db, shopId: string, offsetMs: number): Promise<void> {
  await db.updateTable('shop').set({ clock_offset_ms: offsetMs }).where('shop_id', '=', shopId).execute();
}

export async function keepSettings(db: Db | Trx, shopId: string, settings: ShopSettings): Promise<void> {
  await db
    .updateTable('shop')
    .set({ settings: JSON.stringify(settings) })
    .where('shop_id', '=', shopId)
    .execute();
}

export async function people(db: Db | Trx, shopId: string): Promise<Person[]> {
  return db.selectFrom('person').selectAll().where('shop_id', '=', shopId).orderBy('created_at').execute();
}

/** The shop, locked for one change: settings are one record, and two changes at once must not lose one another. */
export async function lockShop(trx: Trx, shopId: string): Promise<Shop> {
  return trx
    .selectFrom('shop')
    .selectAll()
    .where('shop_id', '=', shopId)
    .forUpdate()
    .executeTakeFirstOrThrow();
}

export async function keepName(trx: Trx, shopId: string, name: string): Promise<void> {
  await trx.updateTable('shop').set({ name }).where('shop_id', '=', shopId).execute();
}

/** Notes that everything of the clock was done, if it was due: what comes next is due at `next`. */
export async function keepClockAt(db: Db, shopId: string, now: Date, next: Date): Promise<void> {
  await db
    .updateTable('shop')
    .set({ clock_at: next })
    .where('shop_id', '=', shopId)
    .where('clock_at', '<=', now)
    .execute();
}

/** Every shop of this database: scheduled jobs work for each in turn. */
export async function allShops(db: Db): Promise<Shop[]> {
  return db.selectFrom('shop').selectAll().orderBy('shop_id').execute();
}

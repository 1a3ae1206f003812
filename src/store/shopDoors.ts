import { sql } from 'kysely';
import type { Db } from './database.ts';

/** Every shop of the database, oldest first. */
export async function allShopIds(outside: Db): Promise<string[]> {
  const found = await sql<{ shop_id: string }>`select shop_id from shops_to_work_for(null)`.execute(outside);
  return found.rows.map((row) => row.shop_id);
}

/** The shops that have anything due now, oldest shop first: the tick works for these, each inside its walls. */
export async function shopsToWorkFor(outside: Db, now: Date): Promise<string[]> {
  const found = await sql<{ shop_id: string }>`select shop_id from shops_to_work_for(${now})`.execute(
    outside,
  );
  return found.rows.map((row) => row.shop_id);
}

/** The shop of a link, a session or a program's token, by the hash of its secret. */
export async function shopOfSecret(outside: Db, hash: string): Promise<string | undefined> {
  const found = await sql<{ shop_id: string }>`select shop_id from shop_of_secret(${hash})`.execute(outside);
  return found.rows[0]?.shop_id;
}

/** Whose address this is, for sign-in: ids of people at work there, and of their shops. */
export async function accountsOfAddress(
  outside: Db,
  address: string,
): Promise<{ shop_id: string; person_id: string }[]> {
  const found = await sql<{ shop_id: string; person_id: string }>`
    select shop_id, person_id from accounts_of_address(${address})`.execute(outside);
  return found.rows;
}

/** Shops that have a wearer with this number or address. */
export async function shopsOfSender(
  outside: Db,
  channel: 'text' | 'email',
  address: string,
): Promise<string[]> {
  const found = await sql<{ shop_id: string }>`
    select shop_id from shops_of_sender(${channel}, ${address})`.execute(outside);
  return found.rows.map((row) => row.shop_id);
}

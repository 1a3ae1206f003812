import { sql } from 'kysely';
import type { Db } from './database.ts';

/** Every shop of the database, oldest first: the tick works for each in turn, inside its walls. */
export async function shopsToWorkFor(outside: Db): Promise<string[]> {
  const found = await sql<{ shop_id: string }>`select shop_id from shops_to_work_for()`.execute(outside);
  return found.rows.map((row) => row.shop_id);
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

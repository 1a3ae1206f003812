import { createHash, scrypt } from 'node:crypto';
import { promisify } from 'node:util';
import type { Db, Trx } from './database.ts';

/**
 * An address is guessed easily, there being few numbers: its hash takes about three milliseconds each (scrypt, N 2^10), and is made with the shop's
 * id, so that no list made once serves for two shops. A carrier's id of a message cannot be guessed.
 */
export async function addressHash(shopId: string, address: string): Promise<string> {
  const slow = promisify<string, string, number, { N: number; r: number; p: number }, Buffer>(scrypt);
  const hash = await slow(address, `afterfit erased ${shopId}`, 24, { N: 1024, r: 8, p: 1 });
  return hash.toString('base64url');
}

export const messageHash = (channel: string, farId: string): string =>
  createHash('sha256').update(`${channel} ${farId}`).digest('base64url');

export async function addErased(
  trx: Trx,
  shopId: string,
  what: 'address' | 'message',
  hashes: readonly string[],
  at: Date,
): Promise<void> {
  if (hashes.length === 0) return;
  await trx
    .insertInto('erased_trace')
    .values(hashes.map((hash) => ({ shop_id: shopId, hash, what, at })))
    .onConflict((clash) => clash.columns(['shop_id', 'what', 'hash']).doNothing())
    .execute();
}

/** Which of these addresses belonged to somebody who was erased. */
export async function erasedAddresses(
  db: Db | Trx,
  shopId: string,
  addresses: readonly string[],
): Promise<ReadonlySet<string>> {
  const rows = await db
    .selectFrom('erased_trace')
    .select('hash')
    .where('shop_id', '=', shopId)
    .where('what', '=', 'address')
    .execute();
  const erased = new Set<string>();
  if (rows.length === 0) return erased;
  const hashes = new Set(rows.map((row) => row.hash));
  for (const address of addresses) if (hashes.has(await addressHash(shopId, address))) erased.add(address);
  return erased;
}

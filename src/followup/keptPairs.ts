import { sql } from 'kysely';
import type { Db } from '../store/database.ts';
import type { ShopSettings } from '../store/tables.ts';
import { finishedPairs, type ReviewedPair } from './finishedPairs.ts';

type Kept = { readonly stamp: string; readonly pairs: Promise<readonly ReviewedPair[]> };

const keptOf = new WeakMap<Db, Map<string, Kept>>();

/**
 * The finished pairs as they are now; read anew only when something was written to the database since they were read. The
 * stamp is PostgreSQL's own snapshot, which names every transaction that can be seen: the same snapshot sees the same rows.
 * It is taken before the reading, so that what is kept is never older than its stamp.
 */
export async function keptPairs(
  db: Db,
  shopId: string,
  settings: ShopSettings,
  today: string,
): Promise<readonly ReviewedPair[]> {
  const seen = await sql<{ seen: string }>`select pg_current_snapshot()::text as seen`.execute(db);
  const stamp = `${seen.rows[0]!.seen} ${today} ${JSON.stringify(settings)}`;
  const shops = keptOf.get(db) ?? new Map<string, Kept>();
  keptOf.set(db, shops);
  const kept = shops.get(shopId);
  if (kept?.stamp === stamp) return kept.pairs;
  const pairs = finishedPairs(db, shopId, settings, today);
  shops.set(shopId, { stamp, pairs });
  pairs.catch(() => shops.delete(shopId));
  return pairs;
}

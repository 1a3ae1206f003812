import { sql } from 'kysely';
import type { Db, Trx } from './database.ts';

export type BlockHead = {
  readonly block_id: string;
  readonly first_pair_id: string;
  readonly edition: string;
};

/** The blocks of a shop without what is in them. */
export async function blockHeads(db: Db, shopId: string): Promise<BlockHead[]> {
  const found = await sql<BlockHead>`
    select block_id, first_pair_id, edition from review_block where shop_id = ${shopId}`.execute(db);
  return found.rows;
}

/** What is in some blocks, as text. */
export async function blockTexts(
  db: Db,
  shopId: string,
  blockIds: readonly string[],
): Promise<{ readonly block_id: string; readonly figures: string }[]> {
  const found = await sql<{ block_id: string; figures: string }>`
    select block_id, figures from review_block
    where shop_id = ${shopId} and block_id = any(${blockIds}::uuid[])`.execute(db);
  return found.rows;
}

/** Puts blocks in the place of others. A block's text never changes: another text is another block. */
export async function replaceBlocks(
  trx: Trx,
  shopId: string,
  gone: readonly string[],
  made: readonly { readonly firstPairId: string; readonly edition: string; readonly figures: string }[],
): Promise<void> {
  if (gone.length > 0)
    await sql`delete from review_block where shop_id = ${shopId} and block_id = any(${gone}::uuid[])`.execute(
      trx,
    );
  for (const { firstPairId, edition, figures } of made)
    await sql`insert into review_block (shop_id, first_pair_id, edition, figures)
      values (${shopId}, ${firstPairId}, ${edition}, ${figures})`.execute(trx);
}

/** Whether any pair is marked. */
export async function anyPairMarked(db: Db, shopId: string): Promise<boolean> {
  const found = await sql<{ any: boolean }>`
    select exists (select from review_change where shop_id = ${shopId}) as any`.execute(db);
  return found.rows[0]!.any;
}

/** One at a time for a shop: whoever else brings the blocks up to date waits. */
export async function lockBlocks(trx: Trx, shopId: string): Promise<void> {
  await sql`select pg_advisory_xact_lock(hashtextextended(${`review ${shopId}`}, 0))`.execute(trx);
}

/**
 * Takes the marks of some pairs, which are told. To be called before the pairs are read: a write that is not seen here
 * leaves its mark for the next time.
 */
export async function takeMarks(trx: Trx, shopId: string, most: number): Promise<string[]> {
  const found = await sql<{ pair_id: string }>`
    with taken as (
      select distinct pair_id from review_change where shop_id = ${shopId} order by pair_id limit ${most}
    ), gone as (
      delete from review_change c using taken
      where c.shop_id = ${shopId} and c.pair_id = taken.pair_id
    )
    select pair_id from taken`.execute(trx);
  return found.rows.map(({ pair_id }) => pair_id);
}

/** Marks every pair of a shop. */
export async function markAll(trx: Trx, shopId: string): Promise<void> {
  await sql`insert into review_change (shop_id, pair_id)
    select shop_id, pair_id from pair where shop_id = ${shopId}`.execute(trx);
}

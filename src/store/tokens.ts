import type { Selectable } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { Tables } from './tables.ts';

export type ApiToken = Selectable<Tables['api_token']>;

export async function addToken(
  trx: Trx,
  shopId: string,
  token: { hash: string; name: string; scopes: readonly string[]; by: string },
  at: Date,
): Promise<void> {
  await trx
    .insertInto('api_token')
    .values({
      shop_id: shopId,
      token_id: newId(at),
      token_hash: token.hash,
      name: token.name,
      scopes: [...token.scopes],
      made_by: token.by,
      made_at: at,
    })
    .execute();
}

/** Tokens of programs that still hold, newest first. */
export async function tokensOf(db: Db | Trx, shopId: string): Promise<ApiToken[]> {
  return db
    .selectFrom('api_token')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('ended_at', 'is', null)
    .orderBy('made_at', 'desc')
    .execute();
}

/** The token behind a secret, noted as used now. */
export async function useToken(
  db: Db,
  shopId: string,
  hash: string,
  now: Date,
): Promise<ApiToken | undefined> {
  return db
    .updateTable('api_token')
    .set({ used_at: now })
    .where('shop_id', '=', shopId)
    .where('token_hash', '=', hash)
    .where('ended_at', 'is', null)
    .returningAll()
    .executeTakeFirst();
}

/** Ends a token; its name, or undefined where none holds. */
export async function endToken(
  trx: Trx,
  shopId: string,
  tokenId: string,
  at: Date,
): Promise<string | undefined> {
  const row = await trx
    .updateTable('api_token')
    .set({ ended_at: at })
    .where('shop_id', '=', shopId)
    .where('token_id', '=', tokenId)
    .where('ended_at', 'is', null)
    .returning('name')
    .executeTakeFirst();
  return row?.name;
}

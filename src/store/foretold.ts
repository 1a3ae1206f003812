import { sql } from 'kysely';
import type { Db } from './database.ts';

type PairToForetell = {
  pair_id: string;
  wearer_id: string;
  first_worn_on: string;
  first_multifocal: boolean | null;
  birth_year: number | null;
  zone_candidates: string[];
};

/** Pairs first worn since a day that nobody has looked at yet; one whose arrival is only reckoned is not with its wearer. */
export async function pairsToForetell(
  db: Db,
  shopId: string,
  since: string,
  limit: number,
): Promise<PairToForetell[]> {
  const found = await sql<PairToForetell>`
    select p.pair_id, p.wearer_id, p.first_worn_on, j.first_multifocal, w.birth_year, w.zone_candidates
    from pair p
    join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
    join wearer w on w.shop_id = p.shop_id and w.wearer_id = p.wearer_id
    where p.shop_id = ${shopId} and p.first_worn_on >= ${since}::date and p.first_worn_how <> 'reckoned'
      and not exists (select 1 from foretold f where f.shop_id = p.shop_id and f.pair_id = p.pair_id)
    order by p.first_worn_on limit ${limit}`.execute(db);
  return found.rows;
}

/** Puts on record what was foretold of a pair, or that nothing was; once. */
export async function keepForetold(
  db: Db,
  shopId: string,
  pair: { readonly pair_id: string; readonly wearer_id: string },
  why: string | null,
  ringAt: Date,
  at: Date,
): Promise<void> {
  await db
    .insertInto('foretold')
    .values({ shop_id: shopId, pair_id: pair.pair_id, wearer_id: pair.wearer_id, why, ring_at: ringAt, at })
    .onConflict((clash) => clash.columns(['shop_id', 'pair_id']).doNothing())
    .execute();
}

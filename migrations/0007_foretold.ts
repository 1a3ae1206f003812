import { type Kysely, sql } from 'kysely';

/**
 * What a job foretold when its pair reached the wearer, looked at once for each pair: with words, somebody is to be rung early;
 * without, nothing was foretold.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    `create table foretold (
      shop_id text not null,
      pair_id text not null,
      wearer_id text not null,
      why text,
      ring_at timestamptz not null,
      at timestamptz not null,
      primary key (shop_id, pair_id),
      foreign key (shop_id, pair_id) references pair,
      foreign key (shop_id, wearer_id) references wearer
    )`,
    'create index foretold_to_ring on foretold (shop_id, ring_at) where why is not null',
    'create index pair_by_first_worn on pair (shop_id, first_worn_on)',
  ]) {
    await sql.raw(statement).execute(db);
  }
}

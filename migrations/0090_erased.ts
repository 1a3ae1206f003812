import { type Kysely, sql } from 'kysely';

/**
 * Addresses and messages of wearers who were erased, as hashes only: so that nobody takes them in again from an old file, from a carrier's
 * list or from the journal, and messages them.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const STATEMENTS: readonly string[] = [
  `create table erased_trace (
    shop_id text not null references shop,
    hash text not null,
    what text not null check (what in ('address', 'message')),
    at timestamptz not null,
    primary key (shop_id, what, hash)
  )`,
];

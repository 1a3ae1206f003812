import { type Kysely, sql } from 'kysely';

/** How far a shop's mailbox has been looked through, and why it could not be read the last time. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql
    .raw(`create table mailbox_reading (
      shop_id text not null references shop,
      mailbox text not null,
      uid_validity text not null,
      uid bigint not null,
      fault text,
      read_at timestamptz not null,
      primary key (shop_id, mailbox)
    )`)
    .execute(db);
}

import { type Kysely, sql } from 'kysely';

/** What happened in a shop is read newest first, whatever it is about. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    'create index case_event_newest on case_event (shop_id, at desc)',
    'create index attempt_newest on attempt (shop_id, handed_over_at desc) where handed_over_at is not null',
  ]) {
    await sql.raw(statement).execute(db);
  }
}

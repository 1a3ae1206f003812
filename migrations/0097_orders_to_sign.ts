import { type Kysely, sql } from 'kysely';

/** Numbers that came in with new jobs wait to be signed too: one signature for a form or a file, named by its jobs. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    'alter table to_sign drop constraint to_sign_kind_check',
    `alter table to_sign add constraint to_sign_kind_check
      check (kind in ('measures', 'numbers', 'urgent closure', 'order'))`,
    'alter table job add column to_sign_id text',
    'create index job_by_to_sign on job (shop_id, to_sign_id) where to_sign_id is not null',
  ]) {
    await sql.raw(statement).execute(db);
  }
}

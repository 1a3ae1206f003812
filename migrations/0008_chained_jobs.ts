import { type Kysely, sql } from 'kysely';

/** The job that a pair is made again by is found from the pair; acts that were taken back are looked up beside each case. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    'create index job_by_replaced_pair on job (shop_id, remake_of_pair_id) where remake_of_pair_id is not null',
    "create index case_event_taken_back on case_event (shop_id, case_id) where kind = 'taken back'",
  ]) {
    await sql.raw(statement).execute(db);
  }
}

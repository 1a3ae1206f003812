import { type Kysely, sql } from 'kysely';

/**
 * Counts the tables that a large import fills anew. Until somebody does, the database may look a wearer or a job up by an index
 * that knows only the shop, and each row of the import takes longer than the one before. The working role may not count
 * tables; it may ask for this.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const ROWS = [
  ['insert', 'new', ['new']],
  ['delete', 'old', ['old']],
  ['update', 'old_and_new', ['old', 'new']],
] as const;

const STATEMENTS: readonly string[] = [
  `create function take_stock() returns void language plpgsql security definer set search_path = public, pg_temp as $$
  begin
    analyze wearer, contact_point, wearer_contact, consent_event, job, fact, pair, plan, check_in;
  end $$`,
  // The pair of each job is looked up, whatever the database believes of how many there are.
  ...ROWS.map(
    ([
      ,
      name,
      rows,
    ]) => `create or replace function mark_pairs_of_facts_${name}() returns trigger language plpgsql
    set plan_cache_mode = 'force_custom_plan' as $$
  begin
    insert into review_change (shop_id, pair_id)
    select p.shop_id, p.pair_id from (${rows.map((one) => `select shop_id, job_id from ${one}_rows`).join(' union ')}${rows.length === 1 ? ' group by 1, 2' : ''}) j
    cross join lateral (select pair.shop_id, pair.pair_id from pair
      where pair.shop_id = j.shop_id and pair.job_id = j.job_id limit 1) p;
    return null;
  end $$`,
  ),
];

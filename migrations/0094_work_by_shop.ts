import { type Kysely, sql } from 'kysely';

/**
 * Many shops on one database. What is due is asked in two ways: by a shop behind its wall, so those indexes lead with the shop; and
 * by the door that tells which shops have anything due, which goes through the same indexes from shop to shop. `clock_at` is when
 * the clock alone next has something to do for a shop.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const STATEMENTS: readonly string[] = [
  "alter table shop add column clock_at timestamptz not null default 'epoch'",
  'create index shop_by_clock on shop (clock_at)',
  // Planned check-ins lie weeks ahead in every shop, so the door finds those that are due by the day (`check_in_due`).
  "create index check_in_due_of_shop on check_in (shop_id, due_at, wearer_id) where state = 'planned'",
  'drop index attempt_open',
  "create index attempt_open on attempt (shop_id, send_at) where state in ('planned', 'claimed')",
  'drop index attempt_unsettled',
  "create index attempt_unsettled on attempt (shop_id, lease_until) where state in ('handed over', 'unsure')",
  'drop index inbound_unsorted',
  "create index inbound_unsorted on inbound_standing (shop_id, received_at) where state = 'raw'",
  'drop index inbound_to_answer',
  "create index inbound_to_answer on inbound_standing (shop_id, received_at) where answer_state = 'waiting'",
  'drop index alarm_open',
  'create index alarm_open on alarm (shop_id, next_at) where ended_at is null',
  'drop index alarm_call_open',
  "create index alarm_call_open on alarm_call (shop_id, at) where state = 'planned'",
  'drop index picture_to_fetch',
  "create index picture_to_fetch on picture (shop_id, next_at) where state = 'to fetch'",
  // What is forgotten, oldest first.
  'drop index picture_kept',
  "create index picture_kept on picture (shop_id, at) where state in ('kept', 'to fetch')",
  'drop index face_picture_kept',
  "create index face_picture_kept on face_picture (shop_id, at) where state = 'kept'",
  'drop index inbound_raw_kept',
  "create index inbound_raw_kept on inbound (shop_id, received_at) where not (raw ? 'forgotten')",
  'drop index token_by_expiry',
  'create index token_by_expiry on token (shop_id, expires_at)',
];

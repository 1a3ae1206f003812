import { type Kysely, sql } from 'kysely';

/**
 * What was tried on the telephone, and the indexes by which the ring list is found. Who is to be rung is a question to the
 * records and is kept nowhere, so that it cannot go out of date.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const STATEMENTS: readonly string[] = [
  `create table ring_attempt (
    shop_id text not null,
    ring_attempt_id text not null,
    wearer_id text not null,
    what text not null check (what in ('spoke', 'no answer', 'left message', 'wrong number', 'again at')),
    again_at timestamptz,
    note text,
    by_name text not null,
    at timestamptz not null,
    primary key (shop_id, ring_attempt_id),
    foreign key (shop_id, wearer_id) references wearer
  )`,
  'create index ring_attempt_by_wearer on ring_attempt (shop_id, wearer_id, at)',
  `create trigger ring_attempt_append_only before update or delete on ring_attempt
    for each row execute function refuse_change()`,
  "create index check_in_to_ring on check_in (shop_id, due_at) where state = 'to ring'",
  "create index attempt_failed on attempt (shop_id, settled_at) where state in ('failed', 'refused')",
  // Somebody rings, and the display shows the last figures.
  'create index contact_by_last_digits on contact_point (shop_id, (reverse(address) collate "C"))',
  'create index job_by_design on job (shop_id, design_id)',
  'alter table claim_on_lab add column promised_on date',
  // A claim is looked for by the day by which the lenses have to go back, and by its job.
  "create index claim_open on claim_on_lab (shop_id, send_back_by) where state <> 'credited'",
  'create index claim_by_job on claim_on_lab (shop_id, job_id)',
  // A morning list goes once to each person for each day.
  `create table morning_list (
    shop_id text not null references shop,
    person_id text not null,
    day date not null,
    state text not null,
    at timestamptz not null,
    primary key (shop_id, person_id, day)
  )`,
  // Said once for each pair, deadline and last day that ends soon.
  `create table deadline_notice (
    shop_id text not null,
    pair_id text not null,
    whose text not null check (whose in ('lab', 'promise')),
    last_day date not null,
    at timestamptz not null,
    primary key (shop_id, pair_id, whose, last_day),
    foreign key (shop_id, pair_id) references pair
  )`,
];

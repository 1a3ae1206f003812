import { type Kysely, sql } from 'kysely';

/**
 * Papers that a licensed person signs, pairs held back at the bench, and outcomes that a person keeps from moving the shop's own
 * weights. All of it is added to and never changed: how something stands is its newest row.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const APPEND_ONLY = ['bench_hold_event', 'paper', 'signature', 'weight_move'];

const STATEMENTS: readonly string[] = [
  // Released without a licence number: it is still to be signed.
  `create table bench_hold_event (
    shop_id text not null,
    event_id text not null,
    job_id text not null,
    kind text not null check (kind in ('held', 'released', 'signed')),
    why text not null,
    by_name text not null,
    licence_number text,
    at timestamptz not null,
    primary key (shop_id, event_id),
    foreign key (shop_id, job_id) references job
  )`,
  'create index bench_hold_event_by_job on bench_hold_event (shop_id, job_id, at)',
  `create table paper (
    shop_id text not null,
    paper_id text not null,
    case_id text not null,
    kind text not null check (kind in ('remake', 'prescriber')),
    content jsonb not null,
    snapshot_id text,
    made_by text not null,
    at timestamptz not null,
    primary key (shop_id, paper_id),
    foreign key (shop_id, case_id) references case_file
  )`,
  'create index paper_by_case on paper (shop_id, case_id, at)',
  // The licence stands here as it was on the day: a person's own row changes when it is renewed.
  `create table signature (
    shop_id text not null,
    signature_id text not null,
    paper_id text not null,
    person_id text not null,
    person_name text not null,
    licence_number text not null,
    licensed_until date not null,
    answers jsonb not null,
    at timestamptz not null,
    primary key (shop_id, signature_id),
    unique (shop_id, paper_id),
    foreign key (shop_id, paper_id) references paper,
    foreign key (shop_id, person_id) references person
  )`,
  `create table weight_move (
    shop_id text not null,
    move_id text not null,
    pair_id text not null,
    act text not null check (act in ('left out', 'counted again')),
    why text,
    by_name text not null,
    at timestamptz not null,
    primary key (shop_id, move_id),
    foreign key (shop_id, pair_id) references pair
  )`,
  'create index weight_move_by_pair on weight_move (shop_id, pair_id, at)',
  "create index outcome_confirmed on outcome (shop_id, cause) where cause_how in ('found at the bench', 'cured by the act')",
  "create index case_event_acts on case_event (shop_id, at) where kind = 'act'",
  ...APPEND_ONLY.map(
    (table) =>
      `create trigger ${table}_append_only before update or delete on ${table} for each row execute function refuse_change()`,
  ),
];

import { type Kysely, sql } from 'kysely';

/** Who is told of danger and when it was done, and channels that wait because the carrier refuses our set-up. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const STATEMENTS: readonly string[] = [
  // Without a row a person is on call at any hour. Days count from Monday = 1 to Sunday = 7.
  `create table on_call_hours (
    shop_id text not null,
    person_id text not null,
    days int[] not null,
    from_hour int not null check (from_hour between 0 and 23),
    to_hour int not null check (to_hour between 1 and 24),
    primary key (shop_id, person_id),
    foreign key (shop_id, person_id) references person
  )`,
  `create table alarm (
    shop_id text not null references shop,
    alarm_id text not null,
    kind text not null check (kind in ('danger', 'tray', 'test')),
    subject_id text not null,
    case_id text,
    wearer_id text,
    initial text not null,
    waiting int not null default 1,
    raised_at timestamptz not null,
    next_at timestamptz not null,
    rounds int not null default 0,
    ended_at timestamptz,
    ended_why text,
    primary key (shop_id, alarm_id),
    unique (shop_id, kind, subject_id)
  )`,
  'create index alarm_open on alarm (next_at, shop_id) where ended_at is null',
  'create index alarm_by_case on alarm (shop_id, case_id)',
  `create table alarm_call (
    shop_id text not null,
    call_id text not null,
    alarm_id text not null,
    round int not null,
    person_id text not null,
    person_name text not null,
    channel text not null check (channel in ('text', 'email')),
    address text not null,
    subject text,
    body text not null,
    html text,
    state text not null check (state in ('planned', 'accepted', 'refused', 'unsure')),
    lease_until timestamptz,
    far_id text,
    why text,
    at timestamptz not null,
    primary key (shop_id, call_id),
    foreign key (shop_id, alarm_id) references alarm
  )`,
  "create index alarm_call_open on alarm_call (at, shop_id) where state = 'planned'",
  'create index alarm_call_by_alarm on alarm_call (shop_id, alarm_id, round)',
  `create table channel_hold (
    shop_id text not null references shop,
    channel text not null check (channel in ('text', 'email')),
    code text not null,
    why text not null,
    since timestamptz not null,
    try_at timestamptz not null,
    primary key (shop_id, channel)
  )`,
];

import { type Kysely, sql } from 'kysely';

/**
 * Who may come in: passwords and codes as hashes, sessions and links and tokens of programs as hashes, tries counted so that
 * all processes know of them; and what waits for the signature of a licensed person.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const STATEMENTS: readonly string[] = [
  `create table sign_in (
    shop_id text not null,
    person_id text not null,
    password_hash text not null,
    password_at timestamptz not null,
    factor_secret text,
    factor_since timestamptz,
    factor_step bigint not null default 0,
    primary key (shop_id, person_id),
    foreign key (shop_id, person_id) references person
  )`,
  `create table recovery_code (
    shop_id text not null,
    person_id text not null,
    code_hash text not null,
    made_at timestamptz not null,
    used_at timestamptz,
    primary key (shop_id, person_id, code_hash),
    foreign key (shop_id, person_id) references person
  )`,
  `create table sign_in_link (
    shop_id text not null,
    link_hash text not null,
    person_id text not null,
    drops_factor boolean not null,
    made_by text not null,
    made_at timestamptz not null,
    expires_at timestamptz not null,
    used_at timestamptz,
    primary key (shop_id, link_hash),
    foreign key (shop_id, person_id) references person
  )`,
  `create table session (
    shop_id text not null,
    session_hash text not null,
    person_id text not null,
    stage text not null check (stage in ('code', 'set-up', 'whole')),
    about text not null,
    address text not null,
    started_at timestamptz not null,
    seen_at timestamptz not null,
    ends_at timestamptz not null,
    ended_at timestamptz,
    primary key (shop_id, session_hash),
    foreign key (shop_id, person_id) references person
  )`,
  'create index session_of_person on session (shop_id, person_id, ends_at)',
  `create table sign_in_try (
    shop_id text not null references shop,
    caller text not null,
    count int not null,
    since timestamptz not null,
    primary key (shop_id, caller)
  )`,
  `create table api_token (
    shop_id text not null references shop,
    token_id text not null,
    token_hash text not null,
    name text not null,
    scopes text[] not null,
    made_by text not null,
    made_at timestamptz not null,
    used_at timestamptz,
    ended_at timestamptz,
    primary key (shop_id, token_id),
    unique (shop_id, token_hash)
  )`,
  `create table to_sign (
    shop_id text not null,
    to_sign_id text not null,
    kind text not null check (kind in ('measures', 'numbers', 'urgent closure')),
    job_id text,
    case_id text,
    detail jsonb not null,
    by_name text not null,
    at timestamptz not null,
    settled text check (settled in ('signed', 'turned down')),
    settled_by text,
    licence_number text,
    settled_at timestamptz,
    primary key (shop_id, to_sign_id),
    foreign key (shop_id, job_id) references job,
    foreign key (shop_id, case_id) references case_file
  )`,
  'create index to_sign_waiting on to_sign (shop_id, at) where settled is null',
];

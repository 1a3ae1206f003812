import { type Kysely, sql } from 'kysely';

/**
 * Links and reply addresses are kept as hashes only, with how often each was used of late; pictures that wearers send, as
 * cleaned bytes, so that every process sees them; and what was tried before the shop goes live.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
}

const STATEMENTS: readonly string[] = [
  `update token set token = encode(sha256(convert_to(token, 'UTF8')), 'hex')`,
  'alter table token rename column token to token_hash',
  'alter table token add column uses int not null default 0',
  'alter table token add column uses_since timestamptz',
  'create index token_by_expiry on token (expires_at)',
  `create table picture (
    shop_id text not null,
    picture_id text not null,
    inbound_id text not null,
    number int not null,
    state text not null check (state in ('to fetch', 'kept', 'left out', 'removed')),
    content_type text,
    bytes bytea,
    byte_count int,
    why text,
    tries int not null default 0,
    next_at timestamptz,
    at timestamptz not null,
    primary key (shop_id, picture_id),
    unique (shop_id, inbound_id, number),
    foreign key (shop_id, inbound_id) references inbound
  )`,
  "create index picture_to_fetch on picture (next_at, shop_id) where state = 'to fetch'",
  "create index picture_kept on picture (at, shop_id) where state = 'kept'",
  // What came along with a message is kept for a time only; what is left of it is looked for by its day.
  "create index inbound_raw_kept on inbound (received_at, shop_id) where not (raw ? 'forgotten')",
  `create table shop_tick (
    shop_id text not null references shop,
    tick text not null,
    at timestamptz not null,
    by_name text not null,
    detail text not null,
    primary key (shop_id, tick)
  )`,
];

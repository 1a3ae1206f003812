import { type RawBuilder, sql } from 'kysely';
import type { Db } from '../database.ts';

/** One wearer with the newest pair, if there is one yet. */
export type WearerRow = {
  wearer_id: string;
  name: string;
  zone_candidates: string[];
  /** What the list is ordered by, for the next page. */
  sort_key: string;
  sort_id: string;
  pair_id: string | null;
  first_worn_on: string | null;
  first_worn_how: string | null;
  handed_over_on: string | null;
  first_multifocal: boolean | null;
  design: string | null;
  plan_state: string | null;
  plan_why: string | null;
  outcome: string | null;
  outcome_on: string | null;
  case_id: string | null;
  case_danger: boolean | null;
};

/** Where a page of a list begins: after (or before) the row with this key and id. */
export type Place = { readonly way: 'after' | 'before'; readonly key: string; readonly id: string };

/** The sign that no other comes behind. */
const LAST_SIGN = '\u{10ffff}';

/** Two plain comparisons: behind the wall between shops no index answers to `like`. */
const beginsWith = (column: string, words: string): RawBuilder<unknown> =>
  sql`${sql.ref(column)} >= ${words} and ${sql.ref(column)} < ${`${words}${LAST_SIGN}`}`;

/**
 * Wearers whose newest pair was first worn since a day, oldest first: a piece of the index by day, however many wearers
 * the shop has.
 */
export async function settlingWearers(
  db: Db,
  shopId: string,
  since: string,
  place: Place | null,
  limit: number,
): Promise<WearerRow[]> {
  const back = place?.way === 'before';
  const beyond = place
    ? sql`and (p.first_worn_on, p.pair_id) ${back ? sql`<` : sql`>`} (${place.key}::date, ${place.id})`
    : sql``;
  const order = back ? sql`p.first_worn_on desc, p.pair_id desc` : sql`p.first_worn_on, p.pair_id`;
  const rows = await withPair(
    db,
    shopId,
    sql`select p.wearer_id, p.first_worn_on::text as sort_key, p.pair_id as sort_id from pair p
      where p.shop_id = ${shopId} and p.first_worn_on >= ${since}::date ${beyond} and ${isNewest}
      order by ${order} limit ${limit}`,
  );
  return back ? rows.reverse() : rows;
}

/** Everyone, by name. */
export async function allWearers(
  db: Db,
  shopId: string,
  place: Place | null,
  limit: number,
): Promise<WearerRow[]> {
  const back = place?.way === 'before';
  const beyond = place
    ? sql`and (name_key, wearer_id) ${back ? sql`<` : sql`>`} (${place.key} collate "C", ${place.id})`
    : sql``;
  const order = back ? sql`name_key desc, wearer_id desc` : sql`name_key, wearer_id`;
  const rows = await withPair(
    db,
    shopId,
    sql`select wearer_id, name_key as sort_key, wearer_id as sort_id from wearer
      where shop_id = ${shopId} ${beyond} order by ${order} limit ${limit}`,
  );
  return back ? rows.reverse() : rows;
}

export type Sought = {
  /** Beginning of a name, of its last word, or of a job number. */
  readonly words: string;
  /** A telephone number or email address in full, as it is kept. */
  readonly addresses: readonly string[];
};

export async function foundWearers(
  db: Db,
  shopId: string,
  sought: Sought,
  limit: number,
): Promise<WearerRow[]> {
  return withPair(
    db,
    shopId,
    sql`select distinct f.wearer_id, w.name_key as sort_key, f.wearer_id as sort_id
      from (${soughtIds(shopId, sought, limit)}) f
      join wearer w on w.shop_id = ${shopId} and w.wearer_id = f.wearer_id
      order by 2, 1 limit ${limit}`,
  );
}

/** Ids of wearers that fit what was typed: by indexes only, never through all names. */
export function soughtIds(shopId: string, sought: Sought, limit: number): RawBuilder<unknown> {
  const begins = (column: string) => beginsWith(column, sought.words.toLowerCase());
  const byWords = sql`
    (select wearer_id from wearer
      where shop_id = ${shopId} and ${begins('name_key')} limit ${limit})
    union all
    (select wearer_id from wearer
      where shop_id = ${shopId} and ${begins('last_name_key')} limit ${limit})
    union all
    (select wearer_id from job
      where shop_id = ${shopId} and ${begins('number_key')} limit ${limit})`;
  if (sought.addresses.length === 0) return byWords;
  return sql`${byWords}
    union all
    (select wc.wearer_id from contact_point c
      join wearer_contact wc on wc.shop_id = c.shop_id and wc.contact_id = c.contact_id
      where c.shop_id = ${shopId} and c.channel in ('text', 'email') and c.address = any(${[...sought.addresses]}::text[])
      limit ${limit})`;
}

const isNewest = sql`not exists (select 1 from pair n where n.shop_id = p.shop_id and n.wearer_id = p.wearer_id
  and (n.first_worn_on, n.pair_id) > (p.first_worn_on, p.pair_id))`;

async function withPair(db: Db, shopId: string, chosen: RawBuilder<unknown>): Promise<WearerRow[]> {
  const found = await sql<WearerRow>`
    with chosen as materialized (select c.*, row_number() over () as place from (${chosen}) c)
    select w.wearer_id, w.name, w.zone_candidates, c.sort_key, c.sort_id, p.pair_id, p.first_worn_on, p.first_worn_how,
      p.handed_over_on, j.first_multifocal, d.name as design, pl.state as plan_state, pl.why as plan_why, o.outcome,
      o.on_day as outcome_on, f.case_id, f.danger as case_danger
    from chosen c
    join wearer w on w.shop_id = ${shopId} and w.wearer_id = c.wearer_id
    left join lateral (select * from pair where shop_id = ${shopId} and wearer_id = w.wearer_id
      order by first_worn_on desc, pair_id desc limit 1) p on true
    left join job j on j.shop_id = ${shopId} and j.job_id = p.job_id
    left join lens_design d on d.shop_id = ${shopId} and d.design_id = j.design_id
    left join plan pl on pl.shop_id = ${shopId} and pl.pair_id = p.pair_id
    left join outcome o on o.shop_id = ${shopId} and o.pair_id = p.pair_id
    left join case_file f on f.shop_id = ${shopId} and f.pair_id = p.pair_id and f.closed_at is null
    order by c.place`.execute(db);
  return found.rows;
}

/** How many there are, counted no further than `most`: a list does not wait for a count of everyone. */
export async function countSettling(db: Db, shopId: string, since: string, most: number): Promise<number> {
  const found = await sql<{ n: number }>`select count(*) as n from (select 1 from pair p
    where p.shop_id = ${shopId} and p.first_worn_on >= ${since}::date and ${isNewest} limit ${most}) c`.execute(
    db,
  );
  return found.rows[0]!.n;
}

export async function countWearers(db: Db, shopId: string, most: number): Promise<number> {
  const found = await sql<{ n: number }>`select count(*) as n
    from (select 1 from wearer where shop_id = ${shopId} limit ${most}) c`.execute(db);
  return found.rows[0]!.n;
}

export type CheckInRow = {
  pair_id: string;
  slot: string;
  kind: string;
  day: number;
  due_on: string;
  due_at: Date;
  state: string;
  why: string | null;
};
export type MessageRow = {
  wearer_id: string;
  pair_id: string | null;
  message_id: string;
  purpose: string;
  channel: string;
  body: string;
  written_by: string | null;
  created_at: Date;
  /** It puts a question, unlike the tips at the hand-over. */
  asks: boolean;
  state: string | null;
  why: string | null;
};
export type ReplyRow = {
  wearer_id: string;
  pair_id: string | null;
  body: string;
  channel: string;
  received_at: Date;
  labels: string[] | null;
  urgent: boolean | null;
};
export type ActRow = { pair_id: string; kind: string; detail: Record<string, unknown>; at: Date };

/** What happened with some wearers since they have their pairs: four statements, whoever many the wearers are. */
export type Happenings = {
  readonly checkIns: readonly CheckInRow[];
  readonly messages: readonly MessageRow[];
  readonly replies: readonly ReplyRow[];
  readonly acts: readonly ActRow[];
};

/** At most so many of the newest messages and replies of one wearer are drawn. */
const EACH = 40;

export async function happenings(
  db: Db,
  shopId: string,
  wearerIds: readonly string[],
  pairIds: readonly string[],
): Promise<Happenings> {
  if (wearerIds.length === 0) return { checkIns: [], messages: [], replies: [], acts: [] };
  const wearers = sql`unnest(${[...wearerIds]}::text[]) as asked(wearer_id)`;
  const pairs = [...pairIds];
  const checkIns = await sql<CheckInRow>`
    select pair_id, slot, kind, day, due_on, due_at, state, why from check_in
    where shop_id = ${shopId} and pair_id = any(${pairs}::text[]) order by due_at`.execute(db);
  const messages = await sql<MessageRow>`
    select asked.wearer_id, m.pair_id, m.message_id, m.purpose, m.channel, m.body, m.written_by, m.created_at,
      m.asked is not null as asks, a.state, a.why
    from ${wearers}
    cross join lateral (select * from message where shop_id = ${shopId} and wearer_id = asked.wearer_id
      order by created_at desc limit ${EACH}) m
    left join lateral (select state, why from attempt where shop_id = ${shopId} and message_id = m.message_id
      order by number desc limit 1) a on true
    order by m.created_at`.execute(db);
  const replies = await sql<ReplyRow>`
    select asked.wearer_id, s.pair_id, i.body, i.channel, s.received_at, r.labels, r.urgent
    from ${wearers}
    cross join lateral (select * from inbound_standing where shop_id = ${shopId} and wearer_id = asked.wearer_id
      order by received_at desc limit ${EACH}) s
    join inbound i on i.shop_id = ${shopId} and i.inbound_id = s.inbound_id
    left join lateral (select labels, urgent from reading where shop_id = ${shopId} and inbound_id = s.inbound_id
      order by at desc limit 1) r on true
    order by s.received_at`.execute(db);
  const acts = await sql<ActRow>`
    select f.pair_id, e.kind, e.detail, e.at from case_file f
    join case_event e on e.shop_id = f.shop_id and e.case_id = f.case_id
    where f.shop_id = ${shopId} and f.wearer_id = any(${[...wearerIds]}::text[]) and e.kind in ('act', 'closed')
    order by e.at`.execute(db);
  return { checkIns: checkIns.rows, messages: messages.rows, replies: replies.rows, acts: acts.rows };
}

export type WearerPair = {
  pair_id: string;
  job_id: string;
  job_key: string;
  design: string;
  first_multifocal: boolean | null;
  handed_over_on: string;
  first_worn_on: string;
  first_worn_how: string;
  plan_state: string | null;
  plan_why: string | null;
  outcome: string | null;
  outcome_on: string | null;
  case_id: string | null;
  case_danger: boolean | null;
};

/** All pairs of one wearer, newest first, each with its newest case. */
export async function pairsOfWearer(db: Db, shopId: string, wearerId: string): Promise<WearerPair[]> {
  const found = await sql<WearerPair>`
    select p.pair_id, p.job_id, j.job_key, d.name as design, j.first_multifocal, p.handed_over_on, p.first_worn_on,
      p.first_worn_how, pl.state as plan_state, pl.why as plan_why, o.outcome, o.on_day as outcome_on, f.case_id,
      (f.danger and f.closed_at is null) as case_danger
    from pair p
    join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
    join lens_design d on d.shop_id = j.shop_id and d.design_id = j.design_id
    left join plan pl on pl.shop_id = p.shop_id and pl.pair_id = p.pair_id
    left join outcome o on o.shop_id = p.shop_id and o.pair_id = p.pair_id
    left join lateral (select case_id, danger, closed_at from case_file where shop_id = p.shop_id and wearer_id = p.wearer_id
      and pair_id = p.pair_id order by opened_at desc limit 1) f on true
    where p.shop_id = ${shopId} and p.wearer_id = ${wearerId}
    order by p.first_worn_on desc, p.pair_id desc limit 20`.execute(db);
  return found.rows;
}

export type ContactRow = {
  channel: 'text' | 'email';
  address: string;
  consent: 'none' | 'given' | 'withdrawn';
  unusable_why: string | null;
  act: 'given' | 'refused' | 'withdrawn' | null;
  basis: string | null;
  words: string | null;
  recorded_by: string | null;
  at: Date | null;
  shared_with: string[];
};

/** Numbers and addresses of one wearer, each with the newest word on consent and who else has it. */
export async function contactsWithConsent(db: Db, shopId: string, wearerId: string): Promise<ContactRow[]> {
  const found = await sql<ContactRow>`
    select c.channel, c.address, wc.consent, c.unusable_why, e.act, e.basis, e.words, e.recorded_by, e.at,
      coalesce((select array_agg(o.name order by o.name) from (select w.name from wearer_contact other
        join wearer w on w.shop_id = other.shop_id and w.wearer_id = other.wearer_id
        where other.shop_id = wc.shop_id and other.contact_id = wc.contact_id and other.wearer_id <> wc.wearer_id
        limit 10) o), '{}') as shared_with
    from wearer_contact wc
    join contact_point c on c.shop_id = wc.shop_id and c.contact_id = wc.contact_id
    left join lateral (select act, basis, words, recorded_by, at from consent_event
      where shop_id = wc.shop_id and wearer_id = wc.wearer_id and channel = wc.channel
        and (contact_id is null or contact_id = wc.contact_id)
      order by at desc, ((act = 'given') = (wc.consent = 'given')) desc limit 1) e on true
    where wc.shop_id = ${shopId} and wc.wearer_id = ${wearerId}
    order by c.channel desc, c.created_at`.execute(db);
  return found.rows;
}

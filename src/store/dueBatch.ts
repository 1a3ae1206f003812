import { sql } from 'kysely';
import type { Trx } from './database.ts';
import type { ReachableContact, Wearer } from './wearers.ts';

/* What is read and written of many wearers at once, when their check-ins are due: one statement for all instead of one each. */

export type DueWearer = Pick<
  Wearer,
  'shop_id' | 'wearer_id' | 'name' | 'locale' | 'prefers' | 'zone_candidates' | 'automatic_held_why'
>;

const WEARER = sql.raw(
  'w.shop_id, w.wearer_id, w.name, w.locale, w.prefers, w.zone_candidates, w.automatic_held_why',
);

/** A running plan asks; one that is paused until the glasses have come asks only that. */
const ITS_PLAN_ASKS = sql<boolean>`(p.state = 'running' or (p.state = 'paused' and c.kind = 'have they come'))`;

/**
 * Takes wearers of whom a check-in is due, the longest due first, and locks them for one piece of work. Whoever another process
 * has is left out, and so are `exceptIds`.
 */
export async function takeDueWearers(
  trx: Trx,
  now: Date,
  limit: number,
  exceptIds: readonly string[],
): Promise<DueWearer[]> {
  const found = await sql<DueWearer>`
    select ${WEARER} from check_in c
    join plan p on p.shop_id = c.shop_id and p.pair_id = c.pair_id
    join wearer w on w.shop_id = c.shop_id and w.wearer_id = c.wearer_id
    where c.state = 'planned' and c.due_at <= ${now} and ${ITS_PLAN_ASKS}
      and c.wearer_id <> all(${[...exceptIds]}::text[])
    order by c.due_at limit ${limit}
    for update of w skip locked`.execute(trx);
  return [...new Map(found.rows.map((row) => [row.wearer_id, row])).values()];
}

/** Locks wearers for one piece of work, in the order of their ids; whoever is locked by another is left out. */
export async function lockWearers(
  trx: Trx,
  shopId: string,
  wearerIds: readonly string[],
): Promise<DueWearer[]> {
  const found = await sql<DueWearer>`
    select ${WEARER} from wearer w
    where w.shop_id = ${shopId} and w.wearer_id = any(${[...wearerIds]}::text[])
    order by w.wearer_id for update skip locked`.execute(trx);
  return found.rows;
}

export type DueCheckIn = {
  check_in_id: string;
  pair_id: string;
  wearer_id: string;
  kind: 'tips' | 'ask' | 'have they come';
  day: number;
  due_at: Date;
  way: 'counter' | 'post';
  first_multifocal: boolean | null;
  light_reactive: boolean;
  replaces: boolean;
};

/** Check-ins that are due of some wearers, with what their letters say of the pair. */
export async function dueCheckInsOf(
  trx: Trx,
  shopId: string,
  wearerIds: readonly string[],
  now: Date,
): Promise<DueCheckIn[]> {
  const found = await sql<DueCheckIn>`
    select c.check_in_id, c.pair_id, c.wearer_id, c.kind, c.day, c.due_at,
      j.way, j.first_multifocal, d.light_reactive is not null as light_reactive,
      r.replaces_pair_id is not null as replaces
    from check_in c
    join plan p on p.shop_id = c.shop_id and p.pair_id = c.pair_id
    join pair r on r.shop_id = c.shop_id and r.pair_id = c.pair_id
    join job j on j.shop_id = r.shop_id and j.job_id = r.job_id
    join lens_design d on d.shop_id = j.shop_id and d.design_id = j.design_id
    where c.shop_id = ${shopId} and c.wearer_id = any(${[...wearerIds]}::text[])
      and c.state = 'planned' and c.due_at <= ${now} and ${ITS_PLAN_ASKS}`.execute(trx);
  return found.rows;
}

export type UsableContact = Pick<ReachableContact, 'contact_id' | 'channel' | 'address'> & {
  wearer_id: string;
  written_to: boolean;
};

/** Contacts that the wearers agreed to and that can be used, in the order in which they came on record. */
export async function usableContacts(
  trx: Trx,
  shopId: string,
  wearerIds: readonly string[],
): Promise<UsableContact[]> {
  const found = await sql<UsableContact>`
    select wc.wearer_id, c.contact_id, c.channel, c.address,
      -- With a limit it is looked up for each; without one the planner may read every message of the shop.
      (select true from message m where m.shop_id = wc.shop_id and m.wearer_id = wc.wearer_id
        and m.contact_id = wc.contact_id limit 1) is not null as written_to
    from wearer_contact wc
    join contact_point c on c.shop_id = wc.shop_id and c.contact_id = wc.contact_id
    where wc.shop_id = ${shopId} and wc.wearer_id = any(${[...wearerIds]}::text[])
      and wc.consent = 'given' and c.unusable_why is null
    order by c.created_at`.execute(trx);
  return found.rows;
}

export type WearerLately = {
  wearer_id: string;
  /** Instants of unasked messages since then, newest first. */
  unasked_at: Date[];
  last_inbound_at: Date | null;
  /** A person holds an open case of the wearer; '' when it is a danger sign that waits for one. */
  held_by: string | null;
};

/** What went on with each wearer since an instant. */
export async function wearersLately(
  trx: Trx,
  shopId: string,
  wearerIds: readonly string[],
  since: Date,
): Promise<WearerLately[]> {
  const found = await sql<WearerLately>`
    select w.wearer_id,
      array(select m.created_at from message m
        where m.shop_id = ${shopId} and m.wearer_id = w.wearer_id and m.unasked and m.created_at >= ${since}
        order by m.created_at desc) as unasked_at,
      (select max(s.received_at) from inbound_standing s
        where s.shop_id = ${shopId} and s.wearer_id = w.wearer_id) as last_inbound_at,
      (select coalesce(c.held_by, '') from case_file c
        where c.shop_id = ${shopId} and c.wearer_id = w.wearer_id and c.closed_at is null
          and (c.held_by is not null or c.danger) limit 1) as held_by
    from unnest(${[...wearerIds]}::text[]) as w (wearer_id)`.execute(trx);
  return found.rows;
}

/** A check-in as it is put on record: the message, and the attempt that is handed over at once or waits for its turn. */
export type CheckInToWrite = {
  readonly messageId: string;
  readonly attemptId: string;
  readonly handedOver: boolean;
  readonly checkInId: string;
  readonly wearerId: string;
  readonly pairId: string;
  readonly channel: 'text' | 'email';
  readonly contactId: string;
  readonly subject: string | null;
  readonly body: string;
  readonly html: string | null;
  readonly template: string;
  readonly asked: unknown;
  readonly localDay: string;
};

/**
 * Puts messages and their first attempts on record and claims their check-ins, in one statement. Answers the ids of the messages
 * that were written: a check-in that was asked before, or whose wearer had an unasked message that day, is not.
 */
export async function writeCheckIns(
  trx: Trx,
  shopId: string,
  letters: readonly CheckInToWrite[],
  now: Date,
  leaseUntil: Date,
): Promise<ReadonlySet<string>> {
  if (letters.length === 0) return new Set();
  const made = await sql<{ message_id: string }>`
    with letter as materialized (
      select * from json_to_recordset(${JSON.stringify(letters)}::json) as v ("messageId" text, "attemptId" text,
        "handedOver" boolean, "checkInId" text, "wearerId" text, "pairId" text, channel text, "contactId" text, subject text,
        body text, html text, template text, asked jsonb, "localDay" date)
    ), written as (
      insert into message (shop_id, message_id, once_key, wearer_id, pair_id, check_in_id, purpose, unasked, automatic, channel,
        contact_id, subject, body, html, template, asked, local_day, created_at)
      select ${shopId}, "messageId", 'check-in:' || "checkInId", "wearerId", "pairId", "checkInId", 'check-in', true, true,
        channel, "contactId", subject, body, html, template, asked, "localDay", ${now}
      from letter on conflict do nothing
      returning message_id, check_in_id
    ), tried as (
      insert into attempt (shop_id, attempt_id, message_id, number, state, send_at, handed_over_at, lease_until)
      select ${shopId}, v."attemptId", w.message_id, 1, case when v."handedOver" then 'handed over' else 'planned' end, ${now},
        case when v."handedOver" then ${now}::timestamptz end, case when v."handedOver" then ${leaseUntil}::timestamptz end
      from written w join letter v on v."messageId" = w.message_id
    ), claimed as (
      update check_in c set state = 'claimed', why = null, message_id = w.message_id
      from written w
      where c.shop_id = ${shopId} and c.check_in_id = w.check_in_id and c.state = 'planned'
    )
    select message_id from written`.execute(trx);
  return new Set(made.rows.map((row) => row.message_id));
}

/** Check-ins that wait until an instant of their own, each for a reason of its own. */
export async function postponeCheckIns(
  trx: Trx,
  shopId: string,
  later: readonly { readonly checkInId: string; readonly until: Date; readonly why: string }[],
): Promise<void> {
  if (later.length === 0) return;
  await sql`
    update check_in c set due_at = v.until, why = v.why
    from unnest(${later.map((one) => one.checkInId)}::text[], ${later.map((one) => one.until)}::timestamptz[],
      ${later.map((one) => one.why)}::text[]) as v (check_in_id, until, why)
    where c.shop_id = ${shopId} and c.check_in_id = v.check_in_id and c.state = 'planned'`.execute(trx);
}

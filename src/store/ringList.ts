import { sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { RingWhat } from './tables.ts';

/** Why somebody is to be rung. */
export type RingReasonKind = 'danger' | 'asked' | 'act' | 'no word' | 'check-in' | 'unreached' | 'foretold';

export type RingReasonRow = {
  wearer_id: string;
  kind: RingReasonKind;
  since: Date;
  /** Day of the check-in, words of the act, why a message did not arrive, or what the job foretold. */
  detail: string | null;
  case_id: string | null;
};

export type RingWearerRow = {
  wearer_id: string;
  wearer: string;
  zone_candidates: string[];
  phone: string | null;
  phone_unusable: string | null;
};

export type RingAttemptRow = {
  wearer_id: string;
  what: RingWhat;
  again_at: Date | null;
  note: string | null;
  by_name: string;
  at: Date;
};

export type RingDays = {
  /** A posted pair is asked about on the telephone when nothing was heard until this day or longer. */
  readonly postedUpTo: string;
  /** Posted before this day: no longer waited for. */
  readonly postedSince: string;
  /** Check-ins and failed messages before this are no longer rung about. */
  readonly since: Date;
  /** What a job foretold is rung about from its day on, for so long. */
  readonly foretoldSince: Date;
  readonly now: Date;
};

/**
 * Every open reason to ring somebody that is newer than the last time we spoke with them. Six sources: check-ins of who
 * likes the phone, cases (danger, a call asked for, an act by phone), posted pairs without a word, messages that reached
 * nobody, and pairs whose job foretold trouble while the wearer has not written yet. One statement; each part reads an index that holds only what is open.
 */
export async function ringReasons(
  db: Db | Trx,
  shopId: string,
  days: RingDays,
  wearerId: string | null,
  limit: number,
): Promise<RingReasonRow[]> {
  const only = wearerId === null ? sql`` : sql`and r.wearer_id = ${wearerId}`;
  const found = await sql<RingReasonRow>`
    with r as (
      select c.wearer_id, 'check-in' as kind, c.due_at as since,
        case when c.kind = 'have they come' then 'have they come' else c.day::text end as detail, null as case_id
      from check_in c
      where c.shop_id = ${shopId} and c.state = 'to ring' and c.due_at >= ${days.since}
      union all
      select f.wearer_id,
        case when f.danger then 'danger' when 'wants-contact' = any(f.labels) then 'asked' else 'act' end,
        coalesce(s.received_at, f.opened_at), f.act, f.case_id
      from case_file f
      left join inbound_standing s on s.shop_id = f.shop_id and s.inbound_id = f.newest_inbound_id
      where f.shop_id = ${shopId} and f.closed_at is null
        and (f.danger or 'wants-contact' = any(f.labels) or (f.act_way = 'by phone' and f.state in ('new', 'held')))
      union all
      select p.wearer_id, 'no word', p.handed_over_on::timestamptz, p.handed_over_on::text, null
      from pair p
      where p.shop_id = ${shopId} and p.first_worn_how = 'reckoned' and p.handed_over_on >= ${days.postedSince}::date
        and p.handed_over_on <= ${days.postedUpTo}::date
        and not exists (select 1 from inbound_standing s where s.shop_id = p.shop_id and s.wearer_id = p.wearer_id
          and s.received_at >= p.handed_over_on)
      union all
      select m.wearer_id, 'unreached', a.settled_at, coalesce(a.why, a.state), null
      from attempt a
      join message m on m.shop_id = a.shop_id and m.message_id = a.message_id
      where a.shop_id = ${shopId} and a.state in ('failed', 'refused') and a.settled_at >= ${days.since}
        and not exists (select 1 from attempt b join message n on n.shop_id = b.shop_id and n.message_id = b.message_id
          where n.shop_id = m.shop_id and n.wearer_id = m.wearer_id and n.created_at >= m.created_at
            and b.state in ('planned', 'claimed', 'handed over', 'accepted', 'delivered'))
        and not exists (select 1 from inbound_standing s where s.shop_id = m.shop_id and s.wearer_id = m.wearer_id
          and s.received_at > a.settled_at)
      union all
      select t.wearer_id, 'foretold', t.ring_at, t.why, null
      from foretold t join pair p on p.shop_id = t.shop_id and p.pair_id = t.pair_id
      where t.shop_id = ${shopId} and t.why is not null and t.ring_at <= ${days.now} and t.ring_at >= ${days.foretoldSince}
        and not exists (select 1 from inbound_standing s where s.shop_id = t.shop_id and s.wearer_id = t.wearer_id
          and s.received_at >= p.first_worn_on)
    )
    select r.wearer_id, r.kind, r.since, r.detail, r.case_id from r
    where not exists (select 1 from ring_attempt t where t.shop_id = ${shopId} and t.wearer_id = r.wearer_id
      and t.what = 'spoke' and t.at >= r.since) ${only}
    order by r.since desc
    limit ${limit}`.execute(db);
  return found.rows;
}

export async function ringWearers(
  db: Db | Trx,
  shopId: string,
  wearerIds: readonly string[],
): Promise<RingWearerRow[]> {
  if (wearerIds.length === 0) return [];
  const found = await sql<RingWearerRow>`
    select w.wearer_id, w.name as wearer, w.zone_candidates, phone.address as phone, phone.unusable_why as phone_unusable
    from wearer w
    left join lateral (select c.address, c.unusable_why from wearer_contact wc
      join contact_point c on c.shop_id = wc.shop_id and c.contact_id = wc.contact_id
      where wc.shop_id = w.shop_id and wc.wearer_id = w.wearer_id and c.channel = 'text'
      order by c.unusable_why is not null, c.created_at limit 1) phone on true
    where w.shop_id = ${shopId} and w.wearer_id = any(${[...wearerIds]}::text[])`.execute(db);
  return found.rows;
}

/** What was tried with some wearers, newest first; what lies before the last time we spoke is no longer told. */
export async function ringAttempts(
  db: Db | Trx,
  shopId: string,
  wearerIds: readonly string[],
): Promise<RingAttemptRow[]> {
  if (wearerIds.length === 0) return [];
  const found = await sql<RingAttemptRow>`
    select wearer_id, what, again_at, note, by_name, at from ring_attempt t
    where shop_id = ${shopId} and wearer_id = any(${[...wearerIds]}::text[])
      and at >= coalesce((select max(at) from ring_attempt s where s.shop_id = t.shop_id and s.wearer_id = t.wearer_id
        and s.what = 'spoke'), '-infinity')
    order by at desc, ring_attempt_id desc`.execute(db);
  return found.rows;
}

export async function addRingAttempt(
  trx: Trx,
  shopId: string,
  attempt: {
    readonly wearerId: string;
    readonly what: RingWhat;
    readonly againAt: Date | null;
    readonly note: string | null;
    readonly by: string;
  },
  at: Date,
): Promise<void> {
  await trx
    .insertInto('ring_attempt')
    .values({
      shop_id: shopId,
      ring_attempt_id: newId(at),
      wearer_id: attempt.wearerId,
      what: attempt.what,
      again_at: attempt.againAt,
      note: attempt.note,
      by_name: attempt.by,
      at,
    })
    .execute();
}

/** A number that belongs to somebody else is not rung and not texted again, whoever it was kept for. */
export async function markNumberWrong(
  trx: Trx,
  shopId: string,
  wearerId: string,
  why: string,
): Promise<void> {
  await trx
    .updateTable('contact_point')
    .set({ unusable_why: why })
    .where('shop_id', '=', shopId)
    .where('channel', '=', 'text')
    .where('contact_id', 'in', (mine) =>
      mine
        .selectFrom('wearer_contact')
        .select('contact_id')
        .where('shop_id', '=', shopId)
        .where('wearer_id', '=', wearerId),
    )
    .execute();
}

/** Who has a number that ends so: what a caller's display shows, or what somebody says first. */
export async function wearersByLastDigits(
  db: Db,
  shopId: string,
  digits: string,
  limit: number,
): Promise<RingWearerRow[]> {
  const turned = `${[...digits].reverse().join('')}%`;
  const found = await sql<{ wearer_id: string }>`
    select distinct wc.wearer_id from contact_point c
    join wearer_contact wc on wc.shop_id = c.shop_id and wc.contact_id = c.contact_id
    where c.shop_id = ${shopId} and c.channel = 'text' and reverse(c.address) collate "C" like ${turned}
    limit ${limit}`.execute(db);
  return ringWearers(
    db,
    shopId,
    found.rows.map((row) => row.wearer_id),
  );
}

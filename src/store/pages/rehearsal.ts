import { sql } from 'kysely';
import type { Db } from '../database.ts';

export type HandsetRow = {
  contact_id: string;
  channel: 'text' | 'email';
  address: string;
  names: string[];
  zones: string[];
  locale: string;
  last_at: Date | null;
};

/** Every pretend telephone and mailbox: those that heard from the shop last come first, people on call at the end. */
export async function handsets(db: Db, shopId: string): Promise<HandsetRow[]> {
  const found = await sql<HandsetRow>`
    select c.contact_id, c.channel, c.address, array_agg(w.name order by w.name) as names,
      (array_agg(w.zone_candidates[1]))[1:1] as zones, min(w.locale) as locale,
      (select max(r.at) from rehearsal_item r where r.shop_id = c.shop_id and r.channel = c.channel and r.address = c.address) as last_at
    from contact_point c
    join wearer_contact wc on wc.shop_id = c.shop_id and wc.contact_id = c.contact_id
    join wearer w on w.shop_id = wc.shop_id and w.wearer_id = wc.wearer_id
    where c.shop_id = ${shopId}
    group by c.shop_id, c.contact_id, c.channel, c.address
    order by last_at desc nulls last, c.contact_id desc
    limit 200`.execute(db);
  return [...found.rows, ...(await handsetsOnCall(db, shopId))];
}

/** What people on call hold in their hands: alarms arrive there. */
async function handsetsOnCall(db: Db, shopId: string): Promise<HandsetRow[]> {
  const found = await sql<HandsetRow>`
    select p.person_id || ':' || way.channel as contact_id, way.channel, way.address,
      array[p.name || ', on call'] as names, array[s.time_zone] as zones, s.locale, null as last_at
    from person p
    join shop s on s.shop_id = p.shop_id
    cross join lateral (values ('text', p.phone_e164), ('email', p.email)) as way (channel, address)
    where p.shop_id = ${shopId} and p.active and p.on_call_order is not null and way.address is not null
    order by p.on_call_order, way.channel desc`.execute(db);
  return found.rows;
}

export async function handsetMessages(
  db: Db,
  shopId: string,
  channel: string,
  address: string,
  limit: number,
) {
  const found = await sql<{ out: boolean; body: string; subject: string | null; at: Date }>`
    select * from (
      select true as out, body, subject, at from rehearsal_item
        where shop_id = ${shopId} and channel = ${channel} and address = ${address}
      union all
      select false, body, null, received_at from inbound
        where shop_id = ${shopId} and channel = ${channel} and from_address = ${address}
      order by at desc limit ${limit}
    ) newest order by at`.execute(db);
  return found.rows;
}

export async function nextPlanned(db: Db, shopId: string, after: Date) {
  const found = await sql<{ slot: string; name: string; due_at: Date }>`
    select c.slot, w.name, c.due_at from check_in c
    join plan p on p.shop_id = c.shop_id and p.pair_id = c.pair_id
    join wearer w on w.shop_id = c.shop_id and w.wearer_id = c.wearer_id
    where c.shop_id = ${shopId} and c.state = 'planned' and c.due_at > ${after} and p.state <> 'ended'
    order by c.due_at limit 1`.execute(db);
  return found.rows[0];
}

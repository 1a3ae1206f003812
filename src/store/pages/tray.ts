import { sql } from 'kysely';
import type { Db } from '../database.ts';

export type TrayRow = {
  inbound_id: string;
  body: string;
  channel: string;
  from_address: string;
  raw: unknown;
  received_at: Date;
  tray_why: string | null;
  wearer_id: string | null;
  wearer: string | null;
  case_id: string | null;
  labels: string[] | null;
  urgent: boolean | null;
  spans: { label: string; start: number; end: number }[] | null;
  left_over: { start: number; end: number }[] | null;
};

/** Every inbound that is not wholly accounted for: danger first, then oldest first. */
export async function trayItems(db: Db, shopId: string, limit: number): Promise<TrayRow[]> {
  const found = await sql<TrayRow>`
    select i.inbound_id, i.body, i.channel, i.from_address, i.raw, i.received_at, s.tray_why, s.wearer_id, w.name as wearer,
      s.case_id, r.labels, r.urgent, r.spans, r.left_over
    from inbound_standing s
    join inbound i on i.shop_id = s.shop_id and i.inbound_id = s.inbound_id
    left join wearer w on w.shop_id = s.shop_id and w.wearer_id = s.wearer_id
    left join lateral (select labels, urgent, spans, left_over from reading
      where shop_id = s.shop_id and inbound_id = s.inbound_id order by at desc limit 1) r on true
    where s.shop_id = ${shopId} and s.state = 'tray'
    order by coalesce(r.urgent, false) desc, s.received_at
    limit ${limit}`.execute(db);
  return found.rows;
}

export type Candidate = {
  wearer_id: string;
  name: string;
  job_key: string | null;
  first_worn_on: string | null;
};

/** Wearers who share an address, with their newest pair. */
export async function wearersAtAddress(
  db: Db,
  shopId: string,
  channel: string,
  address: string,
): Promise<Candidate[]> {
  const found = await sql<Candidate>`
    select w.wearer_id, w.name, p.job_key, p.first_worn_on
    from contact_point c
    join wearer_contact wc on wc.shop_id = c.shop_id and wc.contact_id = c.contact_id
    join wearer w on w.shop_id = wc.shop_id and w.wearer_id = wc.wearer_id
    left join lateral (select j.job_key, p.first_worn_on from pair p join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
      where p.shop_id = w.shop_id and p.wearer_id = w.wearer_id order by p.first_worn_on desc limit 1) p on true
    where c.shop_id = ${shopId} and c.channel = ${channel} and c.address = ${address} limit 10`.execute(db);
  return found.rows;
}

export async function wearersLike(db: Db, shopId: string, words: string): Promise<Candidate[]> {
  const like = `%${words.replace(/[\\%_]/g, '\\$&')}%`;
  const found = await sql<Candidate>`
    select w.wearer_id, w.name, p.job_key, p.first_worn_on
    from wearer w
    left join lateral (select j.job_key, p.first_worn_on from pair p join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
      where p.shop_id = w.shop_id and p.wearer_id = w.wearer_id order by p.first_worn_on desc limit 1) p on true
    where w.shop_id = ${shopId} and (w.name ilike ${like} or p.job_key ilike ${like}) order by w.name limit 10`.execute(
    db,
  );
  return found.rows;
}

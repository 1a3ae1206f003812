import { sql } from 'kysely';
import type { Db } from '../database.ts';
import type { LabTerm } from '../tables.ts';

export type OpenCaseRow = {
  case_id: string;
  version: number;
  state: string;
  danger: boolean;
  labels: string[];
  held_by: string | null;
  again_on: string | null;
  leading_cause: string | null;
  leading_share: number | null;
  leading_why: string | null;
  act: string | null;
  act_way: string | null;
  act_why: string | null;
  opened_at: Date;
  changed_at: Date;
  wearer_id: string;
  wearer: string;
  zone_candidates: string[];
  first_worn_on: string;
  pair_handed_over_on: string;
  job_key: string;
  first_multifocal: boolean | null;
  design: string;
  ordered_on: string | null;
  lab_invoiced_on: string | null;
  received_on: string | null;
  posted_on: string | null;
  handed_over_on: string | null;
  lab_terms: LabTerm[] | null;
  body: string | null;
  channel: string | null;
  received_at: Date | null;
  spans: { label: string; start: number; end: number }[] | null;
  left_over: { start: number; end: number }[] | null;
  phone: string | null;
};

/** Open cases with the newest words of each wearer: danger first, then longest open. One statement. */
export async function openCases(db: Db, shopId: string, limit: number): Promise<OpenCaseRow[]> {
  const found = await sql<OpenCaseRow>`
    select f.case_id, f.version, f.state, f.danger, f.labels, f.held_by, f.again_on, f.leading_cause, f.leading_share, f.leading_why,
      f.act, f.act_way, f.act_why, f.opened_at, f.changed_at,
      w.wearer_id, w.name as wearer, w.zone_candidates,
      p.first_worn_on, p.handed_over_on as pair_handed_over_on,
      j.job_key, j.first_multifocal, d.name as design, j.ordered_on, j.lab_invoiced_on, j.received_on, j.posted_on,
      j.handed_over_on, l.terms as lab_terms,
      i.body, i.channel, i.received_at, r.spans, r.left_over, phone.address as phone
    from case_file f
    join wearer w on w.shop_id = f.shop_id and w.wearer_id = f.wearer_id
    join pair p on p.shop_id = f.shop_id and p.pair_id = f.pair_id
    join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
    join lens_design d on d.shop_id = j.shop_id and d.design_id = j.design_id
    left join lab l on l.shop_id = j.shop_id and l.lab_id = j.lab_id
    left join inbound i on i.shop_id = f.shop_id and i.inbound_id = f.newest_inbound_id
    left join lateral (select spans, left_over from reading
      where shop_id = i.shop_id and inbound_id = i.inbound_id order by at desc limit 1) r on true
    left join lateral (select c.address from wearer_contact wc
      join contact_point c on c.shop_id = wc.shop_id and c.contact_id = wc.contact_id
      where wc.shop_id = w.shop_id and wc.wearer_id = w.wearer_id and c.channel = 'text' limit 1) phone on true
    where f.shop_id = ${shopId} and f.closed_at is null
    order by f.danger desc, f.opened_at
    limit ${limit}`.execute(db);
  return found.rows;
}

/** How the cautions after danger signs stand, newest attempt for each wearer. */
export async function cautions(db: Db, shopId: string, wearerIds: readonly string[]) {
  if (wearerIds.length === 0) return [];
  return db
    .selectFrom('message as m')
    .innerJoin('attempt as a', (join) =>
      join.onRef('a.shop_id', '=', 'm.shop_id').onRef('a.message_id', '=', 'm.message_id'),
    )
    .select(['m.wearer_id', 'm.channel', 'a.state', 'a.settled_at', 'm.created_at'])
    .where('m.shop_id', '=', shopId)
    .where('m.wearer_id', 'in', [...wearerIds])
    .where('m.purpose', '=', 'caution')
    .orderBy('a.number')
    .execute();
}

/** How many messages of the last two weeks may not have arrived, were refused or failed. */
export async function unsentCount(db: Db, shopId: string, since: Date): Promise<number> {
  const row = await db
    .selectFrom('attempt')
    .select((count) => count.fn.countAll<number>().as('n'))
    .where('shop_id', '=', shopId)
    .where('state', 'in', ['unsure', 'refused', 'failed'])
    .where('send_at', '>=', since)
    .executeTakeFirstOrThrow();
  return row.n;
}

export async function hasJobs(db: Db, shopId: string): Promise<boolean> {
  return (
    (await db
      .selectFrom('job')
      .select('job_id')
      .where('shop_id', '=', shopId)
      .limit(1)
      .executeTakeFirst()) !== undefined
  );
}

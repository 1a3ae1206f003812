import { type RawBuilder, sql } from 'kysely';
import type { Db } from '../database.ts';
import { type Sought, soughtIds } from './wearers.ts';

export type DeliveryRow = {
  job_id: string;
  job_key: string;
  wearer: string;
  way: 'counter' | 'post';
  design: string;
  first_multifocal: boolean | null;
  ordered_on: string | null;
  received_on: string | null;
  posted_on: string | null;
  handed_over_on: string | null;
  arrived_on: string | null;
  created_at: Date;
  first_worn_how: string | null;
  first_worn_on: string | null;
  has_contact: boolean;
  has_consent: boolean;
  refused: boolean;
  /** Something of the finished pair was read on our bench. */
  checked: boolean;
};

/** Ids of jobs run in the order in which they were taken in, so that a place in the list is an id alone. */
export type JobPlace = { readonly way: 'after' | 'before'; readonly id: string };

/**
 * Jobs whose glasses are not in the wearer's hands: not left yet, or posted since a day and not known to have come. Newest
 * first. Two small indexes hold just these, however many jobs there are.
 */
export async function openJobs(
  db: Db,
  shopId: string,
  postedSince: string,
  place: JobPlace | null,
  limit: number,
): Promise<DeliveryRow[]> {
  return paged(
    db,
    shopId,
    place,
    (beyond, order) => openIds(shopId, postedSince, beyond, order, limit),
    limit,
  );
}

export async function allJobs(
  db: Db,
  shopId: string,
  place: JobPlace | null,
  limit: number,
): Promise<DeliveryRow[]> {
  return paged(
    db,
    shopId,
    place,
    (beyond, order) =>
      sql`select j.job_id from job j where j.shop_id = ${shopId} ${beyond(sql`j.job_id`)}
        order by ${order(sql`j.job_id`)} limit ${limit}`,
    limit,
  );
}

export async function foundJobs(
  db: Db,
  shopId: string,
  sought: Sought,
  limit: number,
): Promise<DeliveryRow[]> {
  return rowsOf(
    db,
    shopId,
    sql`select j.job_id from (select distinct wearer_id from (${soughtIds(shopId, sought, limit)}) s) f
      join job j on j.shop_id = ${shopId} and j.wearer_id = f.wearer_id
      order by j.job_id desc limit ${limit}`,
    'desc',
  );
}

type Piece = (column: RawBuilder<unknown>) => RawBuilder<unknown>;

function openIds(
  shopId: string,
  postedSince: string,
  beyond: Piece,
  order: Piece,
  limit: number,
): RawBuilder<unknown> {
  const [ofJob, ofPair] = [sql`j.job_id`, sql`p.job_id`];
  return sql`select job_id from (
      (select j.job_id from job j where j.shop_id = ${shopId} and j.handed_over_on is null and j.posted_on is null
        and j.arrived_on is null ${beyond(ofJob)} order by ${order(ofJob)} limit ${limit})
      union all
      (select p.job_id from pair p where p.shop_id = ${shopId} and p.first_worn_how = 'reckoned'
        and p.handed_over_on >= ${postedSince}::date ${beyond(ofPair)} order by ${order(ofPair)} limit ${limit})
    ) j order by ${order(ofJob)} limit ${limit}`;
}

const newestFirst: Piece = (column) => sql`${column} desc`;

async function paged(
  db: Db,
  shopId: string,
  place: JobPlace | null,
  ids: (beyond: Piece, order: Piece) => RawBuilder<unknown>,
  limit: number,
): Promise<DeliveryRow[]> {
  const back = place?.way === 'before';
  const beyond: Piece = (column) =>
    place ? sql`and ${column} ${back ? sql`>` : sql`<`} ${place.id}` : sql``;
  const rows = await rowsOf(
    db,
    shopId,
    ids(beyond, back ? (column) => column : newestFirst),
    back ? 'asc' : 'desc',
  );
  return back ? rows.slice(0, limit).reverse() : rows;
}

async function rowsOf(
  db: Db,
  shopId: string,
  ids: RawBuilder<unknown>,
  order: 'asc' | 'desc',
): Promise<DeliveryRow[]> {
  const found = await sql<DeliveryRow>`
    with chosen as materialized (${ids})
    select j.job_id, j.job_key, w.name as wearer, j.way, d.name as design, j.first_multifocal, j.ordered_on, j.received_on,
      j.posted_on, j.handed_over_on, j.arrived_on, j.created_at, p.first_worn_how, p.first_worn_on, coalesce(k.has_contact, false) as has_contact,
      coalesce(k.has_consent, false) as has_consent, coalesce(k.refused, false) as refused,
      exists (select 1 from fact where shop_id = ${shopId} and job_id = j.job_id and source = 'lensmeter'
        and key not like 'prev%') as checked
    from chosen c
    join job j on j.shop_id = ${shopId} and j.job_id = c.job_id
    join wearer w on w.shop_id = ${shopId} and w.wearer_id = j.wearer_id
    join lens_design d on d.shop_id = ${shopId} and d.design_id = j.design_id
    left join pair p on p.shop_id = ${shopId} and p.job_id = j.job_id
    left join lateral (select true as has_contact, bool_or(consent = 'given') as has_consent,
        bool_and(consent = 'withdrawn') as refused
      from wearer_contact where shop_id = ${shopId} and wearer_id = j.wearer_id having count(*) > 0) k on true
    order by j.job_id ${order === 'asc' ? sql`asc` : sql`desc`}`.execute(db);
  return found.rows;
}

export type JobCounts = { readonly total: number; readonly silent: number };

/**
 * How many jobs a list holds and how many of them can never be messaged, both counted no further than the newest `most`: a page
 * does not wait for a count of everything.
 */
export async function countOpenJobs(
  db: Db,
  shopId: string,
  postedSince: string,
  most: number,
): Promise<JobCounts> {
  return counted(
    db,
    shopId,
    openIds(shopId, postedSince, () => sql``, newestFirst, most),
  );
}

export async function countAllJobs(db: Db, shopId: string, most: number): Promise<JobCounts> {
  return counted(
    db,
    shopId,
    sql`select j.job_id from job j where j.shop_id = ${shopId} order by j.job_id desc limit ${most}`,
  );
}

async function counted(db: Db, shopId: string, ids: RawBuilder<unknown>): Promise<JobCounts> {
  const found = await sql<JobCounts>`
    with chosen as materialized (${ids})
    select count(*) as total, count(*) filter (where not exists (select 1 from wearer_contact wc
      where wc.shop_id = ${shopId} and wc.wearer_id = j.wearer_id and wc.consent = 'given')) as silent
    from chosen c join job j on j.shop_id = ${shopId} and j.job_id = c.job_id`.execute(db);
  return found.rows[0]!;
}

export type JobWhole = {
  job_id: string;
  job_key: string;
  wearer_id: string;
  wearer: string;
  birth_year: number | null;
  zone_candidates: string[];
  design_id: string;
  design: string;
  first_multifocal: boolean | null;
  way: 'counter' | 'post';
  ordered_on: string | null;
  lab_invoiced_on: string | null;
  received_on: string | null;
  posted_on: string | null;
  handed_over_on: string | null;
  arrived_on: string | null;
  pair_id: string | null;
  first_worn_on: string | null;
  first_worn_how: string | null;
  case_id: string | null;
  contacts: { channel: 'text' | 'email'; consent: 'none' | 'given' | 'withdrawn' }[];
  /** Who noted what was answered at the hand-over. */
  asked_by: string | null;
};

/** One job with its wearer, pair and newest case, in one statement. */
export async function wholeJob(
  db: Db,
  shopId: string,
  jobId: string,
  askedBasis: string,
): Promise<JobWhole | undefined> {
  const found = await sql<JobWhole>`
    select j.job_id, j.job_key, j.wearer_id, w.name as wearer, w.birth_year, w.zone_candidates, j.design_id,
      d.name as design, j.first_multifocal, j.way, j.ordered_on, j.lab_invoiced_on, j.received_on, j.posted_on,
      j.handed_over_on, j.arrived_on, p.pair_id, p.first_worn_on, p.first_worn_how, f.case_id,
      coalesce((select jsonb_agg(jsonb_build_object('channel', channel, 'consent', consent) order by channel desc) from wearer_contact
        where shop_id = j.shop_id and wearer_id = j.wearer_id), '[]') as contacts,
      (select recorded_by from consent_event where shop_id = j.shop_id and wearer_id = j.wearer_id
        and basis = ${askedBasis} order by at desc limit 1) as asked_by
    from job j
    join wearer w on w.shop_id = j.shop_id and w.wearer_id = j.wearer_id
    join lens_design d on d.shop_id = j.shop_id and d.design_id = j.design_id
    left join pair p on p.shop_id = j.shop_id and p.job_id = j.job_id
    left join lateral (select case_id from case_file where shop_id = j.shop_id and wearer_id = j.wearer_id
      and pair_id = p.pair_id order by opened_at desc limit 1) f on true
    where j.shop_id = ${shopId} and j.job_id = ${jobId}`.execute(db);
  return found.rows[0];
}

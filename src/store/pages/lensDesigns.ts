import { sql } from 'kysely';
import type { Db } from '../database.ts';
import type { LabTerm, Outcome } from '../tables.ts';

/** One pair that was handed over, with its job, how it ended, and what the lab was asked. */
export type ReviewPairRow = {
  pair_id: string;
  job_id: string;
  job_key: string;
  design: string;
  design_index: number | null;
  lab: string | null;
  lab_terms: LabTerm[] | null;
  first_multifocal: boolean | null;
  sold_by: string | null;
  ordered_on: string | null;
  lab_invoiced_on: string | null;
  received_on: string | null;
  posted_on: string | null;
  handed_over_on: string;
  first_worn_on: string;
  outcome: Outcome | null;
  reason: string | null;
  borne_by: string | null;
  cause: string | null;
  cause_how: string | null;
  ended_on: string | null;
};

export type ReviewFactRow = {
  job_id: string;
  /** Oldest first: key, eye, value, source, who. */
  facts: [key: string, eye: 'R' | 'L' | null, value: unknown, source: string, by: string | null][];
};

/** What the looks showed, as sets of days: bit 1 for day 7, bit 2 for day 14, bit 4 for day 30. */
export type ReviewLookRow = { pair_id: string; asked: number; answered: number; settled: number };

export type ReviewActRow = {
  pair_id: string;
  act: string | null;
  suggested: string | null;
  leading_cause: string | null;
  share: number | null;
};

export type ReviewClaimRow = {
  job_id: string;
  asked_on: string | null;
  promised: number | null;
  credited: number | null;
};

export type ReviewRows = {
  readonly pairs: readonly ReviewPairRow[];
  readonly facts: readonly ReviewFactRow[];
  readonly looks: readonly ReviewLookRow[];
  readonly acts: readonly ReviewActRow[];
  readonly claims: readonly ReviewClaimRow[];
};

export type ReviewAsked = {
  /** Keys of the facts that the review reads. */
  readonly factKeys: readonly string[];
  /** Labels that speak against "settled" in the same reply. */
  readonly troubles: readonly string[];
};

/**
 * All that the review reads of a shop, in five statements that each pass over a table once. No name and no words of a
 * wearer are among it.
 */
export async function reviewRows(db: Db, shopId: string, asked: ReviewAsked): Promise<ReviewRows> {
  const [pairs, facts, looks, acts, claims] = await Promise.all([
    pairRows(db, shopId),
    factRows(db, shopId, asked.factKeys),
    lookRows(db, shopId, asked.troubles),
    actRows(db, shopId),
    claimRows(db, shopId),
  ]);
  return { pairs, facts, looks, acts, claims };
}

async function pairRows(db: Db, shopId: string): Promise<ReviewPairRow[]> {
  const found = await sql<ReviewPairRow>`
    select p.pair_id, p.job_id, j.job_key, d.name as design, d.refractive_index as design_index, l.name as lab,
      l.terms as lab_terms, j.first_multifocal, j.sold_by, j.ordered_on, j.lab_invoiced_on, j.received_on, j.posted_on,
      p.handed_over_on, p.first_worn_on, o.outcome, o.reason, o.borne_by, o.cause, o.cause_how, o.on_day as ended_on
    from pair p
    join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
    join lens_design d on d.shop_id = j.shop_id and d.design_id = j.design_id
    left join lab l on l.shop_id = j.shop_id and l.lab_id = j.lab_id
    left join outcome o on o.shop_id = p.shop_id and o.pair_id = p.pair_id
    where p.shop_id = ${shopId}
    order by p.handed_over_on, p.pair_id`.execute(db);
  return found.rows;
}

async function factRows(db: Db, shopId: string, keys: readonly string[]): Promise<ReviewFactRow[]> {
  const found = await sql<ReviewFactRow>`
    select f.job_id,
      json_agg(json_build_array(f.key, f.eye, f.value, f.source, f.by_name) order by f.at) as facts
    from fact f
    where f.shop_id = ${shopId} and f.key = any(${keys}::text[])
    group by f.job_id`.execute(db);
  return found.rows;
}

/**
 * Compared as arrays: the newest answer first, then the newest mending, then the newest reading; its last figure is 1 for
 * settled. No sorting of a million rows. An answer belongs to the look before it when it came within three days, else to the next look; of several the newest
 * stands, and a label that a person mended stands before what was read.
 */
async function lookRows(db: Db, shopId: string, troubles: readonly string[]): Promise<ReviewLookRow[]> {
  const found = await sql<ReviewLookRow>`
    with placed as (
      select s.pair_id,
        (s.received_at at time zone coalesce(w.zone_candidates[1], 'UTC'))::date - p.first_worn_on as day,
        array[extract(epoch from s.received_at)::float8, coalesce(extract(epoch from c.at)::float8, 0),
          extract(epoch from r.at)::float8,
          case when 'settled' = any(coalesce(c.labels_after, r.labels))
            and not coalesce(c.labels_after, r.labels) && ${troubles}::text[] then 1 else 0 end] as newest
      from inbound_standing s
      join pair p on p.shop_id = s.shop_id and p.pair_id = s.pair_id
      join wearer w on w.shop_id = p.shop_id and w.wearer_id = p.wearer_id
      join reading r on r.shop_id = s.shop_id and r.inbound_id = s.inbound_id
      left join correction c on c.shop_id = s.shop_id and c.inbound_id = s.inbound_id
      where s.shop_id = ${shopId} and s.pair_id is not null
    ), answers as (
      select pair_id, case when day <= 10 then 1 when day <= 17 then 2 else 4 end as look,
        (max(newest))[4]::int as settled
      from placed where day between 0 and 33 group by 1, 2
    ), answered as (
      select pair_id, sum(look)::int as answered, sum(look * settled)::int as settled from answers group by pair_id
    ), asked as (
      select pair_id, bit_or(case day when 7 then 1 when 14 then 2 when 30 then 4 else 0 end) as asked
      from check_in where shop_id = ${shopId} and kind = 'ask' and state = 'claimed' group by pair_id
    )
    select coalesce(asked.pair_id, answered.pair_id) as pair_id, coalesce(asked.asked, 0) as asked,
      coalesce(answered.answered, 0) as answered, coalesce(answered.settled, 0) as settled
    from asked full join answered on answered.pair_id = asked.pair_id`.execute(db);
  return found.rows;
}

/** The newest act of each pair, with what was suggested when it was chosen. */
async function actRows(db: Db, shopId: string): Promise<ReviewActRow[]> {
  const found = await sql<ReviewActRow>`
    select distinct on (f.pair_id) f.pair_id, e.detail->>'act' as act, e.detail->>'suggested' as suggested,
      e.detail->>'leadingCause' as leading_cause,
      (r.weighing->'causes'->0->>'share')::float8 as share
    from case_event e
    join case_file f on f.shop_id = e.shop_id and f.case_id = e.case_id
    left join ranking_snapshot r on r.shop_id = e.shop_id and r.snapshot_id = e.detail->>'ranking'
    where e.shop_id = ${shopId} and e.kind = 'act'
    order by f.pair_id, e.at desc, e.event_id desc`.execute(db);
  return found.rows;
}

async function claimRows(db: Db, shopId: string): Promise<ReviewClaimRow[]> {
  const found = await sql<ReviewClaimRow>`
    select job_id, min(asked_on) as asked_on, sum(promised_amount) as promised, sum(credited_amount) as credited
    from claim_on_lab where shop_id = ${shopId} group by job_id`.execute(db);
  return found.rows;
}

import { type RawBuilder, sql } from 'kysely';
import type { Db } from '../database.ts';
import type { LabTerm, Outcome } from '../tables.ts';

/** One pair that was handed over, with its job and how it ended. Design and lab by id: their names may change. */
export type ReviewPairRow = {
  pair_id: string;
  job_id: string;
  job_key: string;
  design_id: string;
  lab_id: string | null;
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
 * All that the review reads of a shop's pairs, or of some of them, in five statements. No name and no words of a wearer are
 * among it.
 */
export async function reviewRows(
  db: Db,
  shopId: string,
  asked: ReviewAsked,
  pairIds?: readonly string[],
): Promise<ReviewRows> {
  const some: Some = (column) =>
    pairIds === undefined ? sql`true` : sql`${sql.ref(column)} = any(${pairIds}::text[])`;
  const [pairs, facts, looks, acts, claims] = await Promise.all([
    pairRows(db, shopId, some),
    factRows(db, shopId, asked.factKeys, some),
    lookRows(db, shopId, asked.troubles, some),
    actRows(db, shopId, some),
    claimRows(db, shopId, some),
  ]);
  return { pairs, facts, looks, acts, claims };
}

/** Holds of the rows of the pairs that are asked about. */
type Some = (column: string) => RawBuilder<unknown>;

export type ReviewDesign = { design_id: string; name: string; refractive_index: number | null };
export type ReviewLab = { lab_id: string; name: string; terms: LabTerm[] };

/** What designs and labs are called now, and on which terms. */
export async function reviewNames(
  db: Db,
  shopId: string,
): Promise<{ readonly designs: readonly ReviewDesign[]; readonly labs: readonly ReviewLab[] }> {
  const [designs, labs] = await Promise.all([
    sql<ReviewDesign>`select design_id, name, refractive_index from lens_design where shop_id = ${shopId}`.execute(
      db,
    ),
    sql<ReviewLab>`select lab_id, name, terms from lab where shop_id = ${shopId}`.execute(db),
  ]);
  return { designs: designs.rows, labs: labs.rows };
}

async function pairRows(db: Db, shopId: string, some: Some): Promise<ReviewPairRow[]> {
  const found = await sql<ReviewPairRow>`
    select p.pair_id, p.job_id, j.job_key, j.design_id, j.lab_id, j.first_multifocal, j.sold_by, j.ordered_on,
      j.lab_invoiced_on, j.received_on, j.posted_on, p.handed_over_on, p.first_worn_on, o.outcome, o.reason, o.borne_by,
      o.cause, o.cause_how, o.on_day as ended_on
    from pair p
    join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
    left join outcome o on o.shop_id = p.shop_id and o.pair_id = p.pair_id
    where p.shop_id = ${shopId} and ${some('p.pair_id')}`.execute(db);
  return found.rows;
}

async function factRows(
  db: Db,
  shopId: string,
  keys: readonly string[],
  some: Some,
): Promise<ReviewFactRow[]> {
  const found = await sql<ReviewFactRow>`
    select f.job_id,
      json_agg(json_build_array(f.key, f.eye, f.value, f.source, f.by_name) order by f.at, f.fact_id) as facts
    from pair p
    join fact f on f.shop_id = p.shop_id and f.job_id = p.job_id
    where p.shop_id = ${shopId} and ${some('p.pair_id')} and f.key = any(${keys}::text[])
    group by f.job_id`.execute(db);
  return found.rows;
}

/**
 * Compared as arrays: the newest answer first, then the newest mending, then the newest reading; its last figure is 1 for
 * settled. No sorting of a million rows. An answer belongs to the look before it when it came within three days, else to the next look; of several the newest
 * stands, and a label that a person mended stands before what was read.
 */
async function lookRows(
  db: Db,
  shopId: string,
  troubles: readonly string[],
  some: Some,
): Promise<ReviewLookRow[]> {
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
      where s.shop_id = ${shopId} and s.pair_id is not null and ${some('s.pair_id')}
    ), answers as (
      select pair_id, case when day <= 10 then 1 when day <= 17 then 2 else 4 end as look,
        (max(newest))[4]::int as settled
      from placed where day between 0 and 33 group by 1, 2
    ), answered as (
      select pair_id, sum(look)::int as answered, sum(look * settled)::int as settled from answers group by pair_id
    ), asked as (
      select pair_id, bit_or(case day when 7 then 1 when 14 then 2 when 30 then 4 else 0 end) as asked
      from check_in where shop_id = ${shopId} and ${some('pair_id')} and kind = 'ask' and state = 'claimed'
      group by pair_id
    )
    select coalesce(asked.pair_id, answered.pair_id) as pair_id, coalesce(asked.asked, 0) as asked,
      coalesce(answered.answered, 0) as answered, coalesce(answered.settled, 0) as settled
    from asked full join answered on answered.pair_id = asked.pair_id`.execute(db);
  return found.rows;
}

/**
 * The newest act of each pair, with what was suggested when it was chosen. A case that went on with a second pair belongs, for
 * what was done before, to the pair that it was then about.
 */
async function actRows(db: Db, shopId: string, some: Some): Promise<ReviewActRow[]> {
  const found = await sql<ReviewActRow>`
    with moved as (
      select case_id, detail->>'from' as pair_id, at from case_event
      where shop_id = ${shopId} and kind = 'second pair' and detail ? 'from'
    ), cases as (
      select case_id from case_file where shop_id = ${shopId} and ${some('pair_id')}
      union select case_id from moved where ${some('pair_id')}
    ), acts as (
      select e.event_id, e.detail, e.at,
        coalesce((select m.pair_id from moved m where m.case_id = e.case_id and m.at >= e.at order by m.at limit 1),
          f.pair_id) as pair_id
      from cases c
      join case_file f on f.shop_id = ${shopId} and f.case_id = c.case_id
      join case_event e on e.shop_id = f.shop_id and e.case_id = f.case_id and e.kind = 'act'
    )
    select distinct on (a.pair_id) a.pair_id, a.detail->>'act' as act, a.detail->>'suggested' as suggested,
      a.detail->>'leadingCause' as leading_cause, (r.weighing->'causes'->0->>'share')::float8 as share
    from acts a
    left join ranking_snapshot r on r.shop_id = ${shopId} and r.snapshot_id = a.detail->>'ranking'
    where ${some('a.pair_id')}
    order by a.pair_id, a.at desc, a.event_id desc`.execute(db);
  return found.rows;
}

async function claimRows(db: Db, shopId: string, some: Some): Promise<ReviewClaimRow[]> {
  const found = await sql<ReviewClaimRow>`
    select c.job_id, min(c.asked_on) as asked_on, sum(c.promised_amount) as promised, sum(c.credited_amount) as credited
    from pair p
    join claim_on_lab c on c.shop_id = p.shop_id and c.job_id = p.job_id
    where p.shop_id = ${shopId} and ${some('p.pair_id')}
    group by c.job_id`.execute(db);
  return found.rows;
}

import { type Selectable, sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { Tables } from './tables.ts';

export type Claim = Selectable<Tables['claim_on_lab']>;

/** The newest claim for a job's lenses. */
export async function claimOf(db: Db | Trx, shopId: string, jobId: string): Promise<Claim | undefined> {
  return db
    .selectFrom('claim_on_lab')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .orderBy('claim_id', 'desc')
    .limit(1)
    .executeTakeFirst();
}

export async function openClaim(
  trx: Trx,
  shopId: string,
  claim: Pick<Claim, 'case_id' | 'job_id' | 'lab_id' | 'reason' | 'send_back_by' | 'asked_on'>,
  at: Date,
): Promise<void> {
  await trx
    .insertInto('claim_on_lab')
    .values({
      shop_id: shopId,
      claim_id: newId(at),
      ...claim,
      state: 'asked',
      sent_on: null,
      promised_amount: null,
      promised_on: null,
      credited_amount: null,
      credited_on: null,
    })
    .execute();
}

export async function changeClaim(
  trx: Trx,
  shopId: string,
  claimId: string,
  change: Partial<
    Pick<
      Claim,
      | 'state'
      | 'send_back_by'
      | 'sent_on'
      | 'promised_amount'
      | 'promised_on'
      | 'credited_amount'
      | 'credited_on'
    >
  >,
): Promise<void> {
  await trx
    .updateTable('claim_on_lab')
    .set(change)
    .where('shop_id', '=', shopId)
    .where('claim_id', '=', claimId)
    .execute();
}

export type ClaimRow = Claim & { job_key: string; wearer: string; lab: string | null };

/**
 * Claims that are not at their end, and those credited since a day. What has to go back soonest stands first.
 */
export async function claimsOf(
  db: Db,
  shopId: string,
  creditedSince: string,
  limit: number,
): Promise<ClaimRow[]> {
  const found = await sql<ClaimRow>`
    select c.*, j.job_key, w.name as wearer, l.name as lab
    from claim_on_lab c
    join job j on j.shop_id = c.shop_id and j.job_id = c.job_id
    join wearer w on w.shop_id = j.shop_id and w.wearer_id = j.wearer_id
    left join lab l on l.shop_id = c.shop_id and l.lab_id = c.lab_id
    where c.shop_id = ${shopId} and (c.state <> 'credited' or c.credited_on >= ${creditedSince}::date)
    order by c.state = 'credited', c.sent_on is not null, c.send_back_by nulls last, c.claim_id
    limit ${limit}`.execute(db);
  return found.rows;
}

export type UnclaimedRow = {
  job_id: string;
  job_key: string;
  wearer: string;
  lab: string | null;
  on_day: string;
};

/** Pairs made again at the lab's cost for which nothing was asked yet. */
export async function unclaimed(
  db: Db,
  shopId: string,
  since: string,
  limit: number,
): Promise<UnclaimedRow[]> {
  const found = await sql<UnclaimedRow>`
    select p.job_id, j.job_key, w.name as wearer, l.name as lab, o.on_day
    from outcome o
    join pair p on p.shop_id = o.shop_id and p.pair_id = o.pair_id
    join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
    join wearer w on w.shop_id = j.shop_id and w.wearer_id = j.wearer_id
    left join lab l on l.shop_id = j.shop_id and l.lab_id = j.lab_id
    where o.shop_id = ${shopId} and o.borne_by = 'the lab' and o.on_day >= ${since}::date
      and not exists (select 1 from claim_on_lab c where c.shop_id = o.shop_id and c.job_id = p.job_id)
    order by o.on_day
    limit ${limit}`.execute(db);
  return found.rows;
}

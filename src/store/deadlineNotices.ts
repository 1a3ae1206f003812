import { sql } from 'kysely';
import type { Db, Trx } from './database.ts';
import type { LabTerm } from './tables.ts';

export type OpenCaseDays = {
  case_id: string;
  pair_id: string;
  wearer: string;
  job_key: string;
  held_by: string | null;
  first_worn_on: string;
  pair_handed_over_on: string;
  ordered_on: string | null;
  lab_invoiced_on: string | null;
  received_on: string | null;
  posted_on: string | null;
  handed_over_on: string | null;
  lab_terms: LabTerm[] | null;
};

/** The days that deadlines count from, of every open case. One statement. */
export async function openCaseDays(db: Db, shopId: string): Promise<OpenCaseDays[]> {
  const found = await sql<OpenCaseDays>`
    select f.case_id, f.pair_id, w.name as wearer, j.job_key, f.held_by, p.first_worn_on,
      p.handed_over_on as pair_handed_over_on, j.ordered_on, j.lab_invoiced_on, j.received_on, j.posted_on,
      j.handed_over_on, l.terms as lab_terms
    from case_file f
    join wearer w on w.shop_id = f.shop_id and w.wearer_id = f.wearer_id
    join pair p on p.shop_id = f.shop_id and p.pair_id = f.pair_id
    join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
    left join lab l on l.shop_id = j.shop_id and l.lab_id = j.lab_id
    where f.shop_id = ${shopId} and f.closed_at is null`.execute(db);
  return found.rows;
}

export type DeadlineNotice = {
  readonly pairId: string;
  readonly whose: 'lab' | 'promise';
  readonly lastDay: string;
};

/** True the first time that this is noticed, whichever process was first. */
export async function noticeOnce(
  trx: Trx,
  shopId: string,
  { pairId, whose, lastDay }: DeadlineNotice,
  at: Date,
): Promise<boolean> {
  const made = await trx
    .insertInto('deadline_notice')
    .values({ shop_id: shopId, pair_id: pairId, whose, last_day: lastDay, at })
    .onConflict((clash) => clash.doNothing())
    .returning('pair_id')
    .executeTakeFirst();
  return made !== undefined;
}

/** How many noticed deadlines of open cases end from a day on. */
export async function noticedFrom(db: Db, shopId: string, today: string): Promise<number> {
  const row = await db
    .selectFrom('deadline_notice as n')
    .innerJoin('case_file as f', (join) =>
      join.onRef('f.shop_id', '=', 'n.shop_id').onRef('f.pair_id', '=', 'n.pair_id'),
    )
    .select((count) => count.fn.countAll<number>().as('n'))
    .where('n.shop_id', '=', shopId)
    .where('n.last_day', '>=', today)
    .where('f.closed_at', 'is', null)
    .executeTakeFirstOrThrow();
  return row.n;
}

import { sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';

export type ConfirmedRow = {
  pair_id: string;
  wearer: string;
  job_key: string;
  cause: string;
  how: 'found at the bench' | 'cured by the act';
  on_day: string;
  by_name: string;
  left_out: boolean;
};

/** Outcomes whose cause a person confirmed, newest first, each with whether it was left out of the weights. */
export async function confirmedOutcomes(
  db: Db | Trx,
  shopId: string,
  limit: number,
): Promise<ConfirmedRow[]> {
  const found = await sql<ConfirmedRow>`
    select o.pair_id, w.name as wearer, j.job_key, o.cause, o.cause_how as how, o.on_day, o.by_name,
      coalesce(m.act = 'left out', false) as left_out
    from outcome o
    join pair p on p.shop_id = o.shop_id and p.pair_id = o.pair_id
    join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
    join wearer w on w.shop_id = p.shop_id and w.wearer_id = p.wearer_id
    left join lateral (select act from weight_move where shop_id = o.shop_id and pair_id = o.pair_id
      order by at desc limit 1) m on true
    where o.shop_id = ${shopId} and o.cause is not null and o.cause_how in ('found at the bench', 'cured by the act')
    order by o.at desc limit ${limit}`.execute(db);
  return found.rows;
}

export type SpeakingRow = Pick<ConfirmedRow, 'pair_id' | 'cause' | 'how' | 'left_out'>;

/** The same outcomes as far as the weights read them, and nothing of whose they are. */
export async function speakingOutcomes(db: Db | Trx, shopId: string, limit: number): Promise<SpeakingRow[]> {
  const found = await sql<SpeakingRow>`
    select o.pair_id, o.cause, o.cause_how as how, coalesce((select act = 'left out' from weight_move m
      where m.shop_id = o.shop_id and m.pair_id = o.pair_id order by at desc limit 1), false) as left_out
    from outcome o
    where o.shop_id = ${shopId} and o.cause is not null and o.cause_how in ('found at the bench', 'cured by the act')
    order by o.at desc limit ${limit}`.execute(db);
  return found.rows;
}

export async function addWeightMove(
  trx: Trx,
  shopId: string,
  move: { readonly pairId: string; readonly act: 'left out' | 'counted again'; readonly by: string },
  at: Date,
): Promise<void> {
  await trx
    .insertInto('weight_move')
    .values({
      shop_id: shopId,
      move_id: newId(at),
      pair_id: move.pairId,
      act: move.act,
      why: null,
      by_name: move.by,
      at,
    })
    .execute();
}

export type SuggestionRow = { suggested: string; chosen: number; changed: number };

/** How often staff did what was suggested, and how often something else, by the act that was suggested. */
export async function suggestionsTaken(db: Db, shopId: string): Promise<SuggestionRow[]> {
  const found = await sql<SuggestionRow>`
    select detail->>'suggested' as suggested,
      (count(*) filter (where detail->>'act' = detail->>'suggested'))::int as chosen,
      (count(*) filter (where detail->>'act' <> detail->>'suggested'))::int as changed
    from case_event e where shop_id = ${shopId} and kind = 'act' and detail->>'suggested' is not null
      and not exists (select 1 from case_event t where t.shop_id = e.shop_id and t.case_id = e.case_id
        and t.kind = 'taken back' and t.detail->>'event' = e.event_id)
    group by 1 order by 1`.execute(db);
  return found.rows;
}

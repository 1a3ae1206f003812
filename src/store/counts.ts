import { sql } from 'kysely';
import type { Db } from './database.ts';

export type ShopCounts = {
  readonly tray: number;
  readonly cases: number;
  readonly danger: number;
  /** What waits for the signature of a licensed person. */
  readonly toSign: number;
  /** Changes whenever something that a page shows may have changed. */
  readonly version: string;
};

/** What the side of every page shows, in one statement. */
export async function shopCounts(db: Db, shopId: string): Promise<ShopCounts> {
  const found = await sql<{
    tray: number;
    cases: number;
    danger: number;
    to_sign: number;
    changed: string | null;
  }>`
    select
      (select count(*) from inbound_standing where shop_id = ${shopId} and state = 'tray') as tray,
      (select count(*) from case_file where shop_id = ${shopId} and closed_at is null) as cases,
      (select count(*) from case_file where shop_id = ${shopId} and closed_at is null and danger) as danger,
      (select count(*) from to_sign where shop_id = ${shopId} and settled is null) as to_sign,
      concat_ws('.',
        (select max(event_id) from case_event where shop_id = ${shopId}),
        (select max(message_id) from message where shop_id = ${shopId}),
        (select max(inbound_id) from inbound where shop_id = ${shopId})) as changed`.execute(db);
  const row = found.rows[0]!;
  return {
    tray: row.tray,
    cases: row.cases,
    danger: row.danger,
    toSign: row.to_sign,
    version: `${row.changed ?? ''}.${row.tray}`,
  };
}

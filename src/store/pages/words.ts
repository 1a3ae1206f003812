import { sql } from 'kysely';
import type { Db } from '../database.ts';

/** More than years of a shop; what is older is not listed. */
export const MOST_CORRECTIONS = 5000;

export type CorrectionRow = {
  readonly inbound_id: string;
  readonly body: string;
  readonly locale: 'en' | 'es' | null;
  readonly labels_before: readonly string[];
  readonly labels_after: readonly string[];
  readonly why: string | null;
  readonly by_name: string;
  readonly at: Date;
};

/** What staff said of readings that were not right, newest first, with the words that were read. */
export async function corrections(db: Db, shopId: string, limit: number): Promise<CorrectionRow[]> {
  const found = await sql<CorrectionRow>`
    select c.inbound_id, i.body, w.locale, c.labels_before, c.labels_after, c.why, c.by_name, c.at
    from correction c
    join inbound i on i.shop_id = c.shop_id and i.inbound_id = c.inbound_id
    join inbound_standing s on s.shop_id = c.shop_id and s.inbound_id = c.inbound_id
    left join wearer w on w.shop_id = s.shop_id and w.wearer_id = s.wearer_id
    where c.shop_id = ${shopId}
    order by c.at desc, c.correction_id desc
    limit ${limit}`.execute(db);
  return found.rows;
}

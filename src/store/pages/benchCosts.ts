import { sql } from 'kysely';
import type { Db } from '../database.ts';

export type CaseCosts = { readonly ofNothing: number; readonly ofBestAct: number };

/** What the newest ranking of each case reckoned: the cost of leaving it alone and of its best act. Cases not weighed are left out. */
export async function benchCosts(
  db: Db,
  shopId: string,
  caseIds: readonly string[],
): Promise<ReadonlyMap<string, CaseCosts>> {
  if (caseIds.length === 0) return new Map();
  const found = await sql<{ case_id: string; costs: CaseCosts }>`
    select f.case_id, r.costs from case_file f
    join lateral (select weighing->'costs' as costs from ranking_snapshot
      where shop_id = f.shop_id and case_id = f.case_id order by at desc limit 1) r on r.costs is not null
    where f.shop_id = ${shopId} and f.case_id in (${sql.join([...caseIds])})`.execute(db);
  return new Map(found.rows.map((row) => [row.case_id, row.costs]));
}

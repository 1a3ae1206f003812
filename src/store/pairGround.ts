import { sql } from 'kysely';
import type { Db, Trx } from './database.ts';
import { type FactRow, factsThatStand, type Job, type Pair } from './jobs.ts';
import type { LensDesign } from './lensBook.ts';
import type { Shop } from './shops.ts';
import type { LabTerm } from './tables.ts';
import type { Wearer } from './wearers.ts';

type Dates = 'ordered_on' | 'lab_invoiced_on' | 'received_on' | 'posted_on' | 'handed_over_on';

/** Everything that the causes of a pair's troubles are weighed by, but for what was said of it. */
export type PairGround = {
  readonly pair: Pick<Pair, 'first_worn_on' | 'handed_over_on'>;
  readonly job: Pick<Job, Dates | 'way'>;
  readonly design: Pick<LensDesign, 'corridor_mm' | 'min_height_mm' | 'abbe'>;
  readonly wearer: Pick<Wearer, 'birth_year' | 'zone_candidates'>;
  readonly shop: Pick<Shop, 'settings' | 'country' | 'time_zone'>;
  readonly labTerms: readonly LabTerm[];
  readonly facts: readonly GroundFact[];
};

export type GroundFact = Pick<FactRow, 'key' | 'eye' | 'value' | 'source'>;

type Row = PairGround['job'] & {
  first_worn_on: Pair['first_worn_on'];
  pair_handed_over_on: Pair['handed_over_on'];
  design: PairGround['design'];
  wearer: PairGround['wearer'];
  shop: PairGround['shop'];
  terms: LabTerm[] | null;
  facts: GroundFact[] | null;
};

/** Read in one statement, as a reply waits for it; by parts and not by joins, whose order takes longer to plan than to read. */
export async function pairGround(
  db: Db | Trx,
  shopId: string,
  pairId: string,
): Promise<PairGround | undefined> {
  const found = await sql<Row>`
    select p.first_worn_on, p.handed_over_on as pair_handed_over_on,
      j.ordered_on, j.lab_invoiced_on, j.received_on, j.posted_on, j.handed_over_on, j.way,
      (select json_build_object('corridor_mm', d.corridor_mm, 'min_height_mm', d.min_height_mm, 'abbe', d.abbe)
        from lens_design d where d.shop_id = ${shopId} and d.design_id = j.design_id) as design,
      (select json_build_object('birth_year', w.birth_year, 'zone_candidates', w.zone_candidates)
        from wearer w where w.shop_id = ${shopId} and w.wearer_id = j.wearer_id) as wearer,
      (select json_build_object('settings', s.settings, 'country', s.country, 'time_zone', s.time_zone)
        from shop s where s.shop_id = ${shopId}) as shop,
      (select l.terms from lab l where l.shop_id = ${shopId} and l.lab_id = j.lab_id) as terms,
      (select json_agg(json_build_object('key', f.key, 'eye', f.eye, 'value', f.value, 'source', f.source)
        order by f.at, f.fact_id) from fact f where f.shop_id = ${shopId} and f.job_id = p.job_id) as facts
    from pair p
    join job j on j.shop_id = p.shop_id and j.job_id = p.job_id
    where p.shop_id = ${shopId} and p.pair_id = ${pairId}`.execute(db);
  const row = found.rows[0];
  if (!row) return undefined;
  return {
    pair: { first_worn_on: row.first_worn_on, handed_over_on: row.pair_handed_over_on },
    job: row,
    design: row.design,
    wearer: row.wearer,
    shop: row.shop,
    labTerms: row.terms ?? [],
    facts: factsThatStand(row.facts ?? []),
  };
}

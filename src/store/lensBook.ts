import { type Selectable, sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { LabTerm, Tables } from './tables.ts';

export type LensDesign = Selectable<Tables['lens_design']>;

/** What is measured of a light-reactive lens, at a stated temperature. */
export type LightReactive = {
  readonly grade?: string;
  readonly clearPercent?: number;
  readonly darkPercent?: number;
  readonly darkAfterS?: number;
  readonly clearHalfLifeS?: number;
  readonly atTemperatureC?: number;
};

export type DesignData = {
  readonly name: string;
  readonly kind: string;
  readonly corridorMm: number | null;
  readonly corridorHow: string | null;
  readonly minHeightMm: number | null;
  readonly index: number | null;
  readonly abbe: number | null;
  readonly lightReactive: LightReactive | null;
  readonly source: string;
};

/** What the lab of a job allows; nothing where the lab or its terms are not known. */
export async function labTermsOf(db: Db | Trx, shopId: string, labId: string | null): Promise<LabTerm[]> {
  if (labId === null) return [];
  const row = await db
    .selectFrom('lab')
    .select('terms')
    .where('shop_id', '=', shopId)
    .where('lab_id', '=', labId)
    .executeTakeFirst();
  return row?.terms ?? [];
}

export async function designByName(trx: Trx, shopId: string, name: string): Promise<LensDesign | undefined> {
  return trx
    .selectFrom('lens_design')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where(sql`lower(name)`, '=', name.toLowerCase())
    .executeTakeFirst();
}

/** Writes the data of a design; one that is there by this name takes them on, with its jobs. */
export async function keepDesignData(trx: Trx, shopId: string, data: DesignData, at: Date): Promise<void> {
  const columns = {
    kind: data.kind,
    corridor_mm: data.corridorMm,
    corridor_how: data.corridorHow,
    min_height_mm: data.minHeightMm,
    refractive_index: data.index,
    abbe: data.abbe,
    light_reactive: data.lightReactive === null ? null : JSON.stringify(data.lightReactive),
    source: data.source,
  };
  await trx
    .insertInto('lens_design')
    .values({ shop_id: shopId, design_id: newId(at), name: data.name, created_at: at, ...columns })
    .onConflict((clash) => clash.columns(['shop_id', 'name']).doUpdateSet(columns))
    .execute();
}

export type DesignRow = LensDesign & { jobs: number };

/** All designs of a shop by name, each with how many jobs use it, counted no further than a thousand. */
export async function designsOf(db: Db | Trx, shopId: string): Promise<DesignRow[]> {
  const found = await sql<DesignRow>`
    select d.*, (select count(*) from (select 1 from job j where j.shop_id = d.shop_id and j.design_id = d.design_id
      limit 1001) n) as jobs
    from lens_design d where d.shop_id = ${shopId} order by lower(d.name)`.execute(db);
  return found.rows;
}

export async function labsOf(db: Db | Trx, shopId: string) {
  return db
    .selectFrom('lab')
    .select(['lab_id', 'name', 'terms'])
    .where('shop_id', '=', shopId)
    .orderBy(sql`lower(name)`)
    .execute();
}

export async function lockLab(trx: Trx, shopId: string, labId: string) {
  return trx
    .selectFrom('lab')
    .select(['lab_id', 'name', 'terms'])
    .where('shop_id', '=', shopId)
    .where('lab_id', '=', labId)
    .forUpdate()
    .executeTakeFirst();
}

/** False where a lab of this name is there already. */
export async function addLab(trx: Trx, shopId: string, name: string, at: Date): Promise<boolean> {
  const there = await trx
    .selectFrom('lab')
    .select('lab_id')
    .where('shop_id', '=', shopId)
    .where(sql`lower(name)`, '=', name.toLowerCase())
    .executeTakeFirst();
  if (there) return false;
  await trx
    .insertInto('lab')
    .values({ shop_id: shopId, lab_id: newId(at), name, terms: JSON.stringify([]), created_at: at })
    .execute();
  return true;
}

export async function keepLabTerms(
  trx: Trx,
  shopId: string,
  labId: string,
  terms: readonly LabTerm[],
): Promise<void> {
  await trx
    .updateTable('lab')
    .set({ terms: JSON.stringify(terms) })
    .where('shop_id', '=', shopId)
    .where('lab_id', '=', labId)
    .execute();
}

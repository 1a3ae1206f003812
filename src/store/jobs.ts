import type { Selectable } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { Tables } from './tables.ts';

export type Job = Selectable<Tables['job']>;
export type Pair = Selectable<Tables['pair']>;
export type FactRow = Selectable<Tables['fact']>;

export type NewFact = {
  readonly jobId: string;
  readonly key: string;
  readonly eye: 'R' | 'L' | null;
  readonly value: unknown;
  readonly unit: string | null;
  readonly how: string | null;
  readonly by: string | null;
  readonly source: string;
};

export async function findJob(db: Db | Trx, shopId: string, jobId: string): Promise<Job | undefined> {
  return db
    .selectFrom('job')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .executeTakeFirst();
}

export async function findPair(db: Db | Trx, shopId: string, pairId: string): Promise<Pair | undefined> {
  return db
    .selectFrom('pair')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .executeTakeFirst();
}

export async function pairsOf(db: Db | Trx, shopId: string, wearerIds: readonly string[]): Promise<Pair[]> {
  if (wearerIds.length === 0) return [];
  return db
    .selectFrom('pair')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('wearer_id', 'in', [...wearerIds])
    .orderBy('first_worn_on', 'desc')
    .execute();
}

export async function addFacts(
  db: Db | Trx,
  shopId: string,
  facts: readonly NewFact[],
  at: Date,
): Promise<void> {
  if (facts.length === 0) return;
  await db
    .insertInto('fact')
    .values(
      facts.map((fact) => ({
        shop_id: shopId,
        fact_id: newId(at),
        job_id: fact.jobId,
        key: fact.key,
        eye: fact.eye,
        value: JSON.stringify(fact.value),
        unit: fact.unit,
        how: fact.how,
        by_name: fact.by,
        source: fact.source,
        at,
      })),
    )
    .execute();
}

/**
 * The facts of a job that stand, oldest first: a later one for the same key and eye stands, the earlier ones stay on record.
 * A row without a value takes back what was told before it.
 */
export async function factsOf(db: Db | Trx, shopId: string, jobId: string): Promise<FactRow[]> {
  const rows = await db
    .selectFrom('fact')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .orderBy('at')
    .orderBy('fact_id')
    .execute();
  return factsThatStand(rows);
}

/** Those of a job's facts, oldest first, that were not taken back. */
export function factsThatStand<Fact extends Pick<FactRow, 'key' | 'eye' | 'value'>>(
  rows: readonly Fact[],
): Fact[] {
  return rows.filter(
    (row, at) =>
      row.value !== null &&
      !rows.some(
        (one, later) => later > at && one.value === null && one.key === row.key && one.eye === row.eye,
      ),
  );
}

export async function designOf(db: Db | Trx, shopId: string, designId: string) {
  return db
    .selectFrom('lens_design')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('design_id', '=', designId)
    .executeTakeFirst();
}

import { type Insertable, sql } from 'kysely';
import type { Db, Trx } from './database.ts';
import { insertMany } from './insertMany.ts';
import type { Tables } from './tables.ts';

/** Rows of one batch of jobs, in the order in which they depend on one another. */
export type JobBatch = {
  readonly wearers: Insertable<Tables['wearer']>[];
  readonly contacts: Insertable<Tables['contact_point']>[];
  readonly wearerContacts: Insertable<Tables['wearer_contact']>[];
  readonly consents: Insertable<Tables['consent_event']>[];
  readonly jobs: Insertable<Tables['job']>[];
  readonly facts: Insertable<Tables['fact']>[];
  readonly pairs: Insertable<Tables['pair']>[];
  readonly plans: Insertable<Tables['plan']>[];
  readonly checkIns: Insertable<Tables['check_in']>[];
};

export const emptyBatch = (): JobBatch => ({
  wearers: [],
  contacts: [],
  wearerContacts: [],
  consents: [],
  jobs: [],
  facts: [],
  pairs: [],
  plans: [],
  checkIns: [],
});

export async function storeBatch(trx: Trx, batch: JobBatch): Promise<void> {
  await insertMany(trx, 'wearer', batch.wearers);
  await insertMany(trx, 'contact_point', batch.contacts);
  await insertMany(trx, 'wearer_contact', batch.wearerContacts, { unlessThere: true });
  await insertMany(trx, 'consent_event', batch.consents);
  await insertMany(trx, 'job', batch.jobs, { json: ['as_taken'] });
  await insertMany(trx, 'fact', batch.facts, { json: ['value'] });
  await insertMany(trx, 'pair', batch.pairs);
  await insertMany(trx, 'plan', batch.plans);
  await insertMany(trx, 'check_in', batch.checkIns);
}

/** Has the database count what an import fills, so that it finds each row by the right index. */
export async function takeStock(db: Db): Promise<void> {
  await sql`select take_stock()`.execute(db);
}

export async function jobsByKey(db: Db | Trx, shopId: string, keys: readonly string[]) {
  if (keys.length === 0) return [];
  return db
    .selectFrom('job')
    .select(['job_id', 'job_key', 'row_digest', 'as_taken'])
    .where('shop_id', '=', shopId)
    .where(sql<boolean>`job_key = any(${[...keys]}::text[])`)
    .execute();
}

export async function contactsByAddress(trx: Trx, shopId: string, addresses: readonly string[]) {
  if (addresses.length === 0) return [];
  return trx
    .selectFrom('contact_point as c')
    .leftJoin('wearer_contact as wc', (join) =>
      join.onRef('wc.shop_id', '=', 'c.shop_id').onRef('wc.contact_id', '=', 'c.contact_id'),
    )
    .leftJoin('wearer as w', (join) =>
      join.onRef('w.shop_id', '=', 'wc.shop_id').onRef('w.wearer_id', '=', 'wc.wearer_id'),
    )
    .select(['c.contact_id', 'c.channel', 'c.address', 'wc.wearer_id', 'w.name', 'w.zone_candidates'])
    .where('c.shop_id', '=', shopId)
    .where(sql<boolean>`c.address = any(${[...addresses]}::text[])`)
    .execute();
}

export async function designsByName(
  trx: Trx,
  shopId: string,
  names: readonly string[],
  make: (name: string) => Insertable<Tables['lens_design']>,
): Promise<Map<string, string>> {
  await trx
    .insertInto('lens_design')
    .values(names.map(make))
    .onConflict((clash) => clash.columns(['shop_id', 'name']).doNothing())
    .execute();
  const rows = await trx
    .selectFrom('lens_design')
    .select(['design_id', 'name'])
    .where('shop_id', '=', shopId)
    .where('name', 'in', [...names])
    .execute();
  return new Map(rows.map((row) => [row.name, row.design_id]));
}

export async function labsByName(
  trx: Trx,
  shopId: string,
  names: readonly string[],
  make: (name: string) => Insertable<Tables['lab']>,
): Promise<Map<string, string>> {
  if (names.length === 0) return new Map();
  await trx
    .insertInto('lab')
    .values(names.map(make))
    .onConflict((clash) => clash.columns(['shop_id', 'name']).doNothing())
    .execute();
  const rows = await trx
    .selectFrom('lab')
    .select(['lab_id', 'name'])
    .where('shop_id', '=', shopId)
    .where('name', 'in', [...names])
    .execute();
  return new Map(rows.map((row) => [row.name, row.lab_id]));
}

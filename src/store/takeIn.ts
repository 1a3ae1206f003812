import type { Insertable } from 'kysely';
import type { Db, Trx } from './database.ts';
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
  if (batch.wearers.length) await trx.insertInto('wearer').values(batch.wearers).execute();
  if (batch.contacts.length) await trx.insertInto('contact_point').values(batch.contacts).execute();
  if (batch.wearerContacts.length) {
    await trx
      .insertInto('wearer_contact')
      .values(batch.wearerContacts)
      .onConflict((clash) => clash.columns(['shop_id', 'wearer_id', 'contact_id']).doNothing())
      .execute();
  }
  for (const part of inParts(batch.consents)) await trx.insertInto('consent_event').values(part).execute();
  if (batch.jobs.length) await trx.insertInto('job').values(batch.jobs).execute();
  for (const part of inParts(batch.facts)) await trx.insertInto('fact').values(part).execute();
  if (batch.pairs.length) await trx.insertInto('pair').values(batch.pairs).execute();
  if (batch.plans.length) await trx.insertInto('plan').values(batch.plans).execute();
  for (const part of inParts(batch.checkIns)) await trx.insertInto('check_in').values(part).execute();
}

/** PostgreSQL takes at most 65,535 parameters in a statement. */
function* inParts<T>(rows: readonly T[], size = 2000): Iterable<T[]> {
  for (let start = 0; start < rows.length; start += size) yield rows.slice(start, start + size);
}

export async function jobsByKey(db: Db | Trx, shopId: string, keys: readonly string[]) {
  if (keys.length === 0) return [];
  return db
    .selectFrom('job')
    .select(['job_id', 'job_key', 'row_digest', 'as_taken'])
    .where('shop_id', '=', shopId)
    .where('job_key', 'in', [...keys])
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
    .where('c.address', 'in', [...addresses])
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

import type { Db } from './database.ts';

/** True for the one process that may send this person's list of this day. */
export async function claimMorning(
  db: Db,
  shopId: string,
  personId: string,
  day: string,
  at: Date,
): Promise<boolean> {
  const made = await db
    .insertInto('morning_list')
    .values({ shop_id: shopId, person_id: personId, day, state: 'claimed', at })
    .onConflict((clash) => clash.doNothing())
    .returning('person_id')
    .executeTakeFirst();
  return made !== undefined;
}

export async function settleMorning(
  db: Db,
  shopId: string,
  personId: string,
  day: string,
  state: string,
): Promise<void> {
  await db
    .updateTable('morning_list')
    .set({ state })
    .where('shop_id', '=', shopId)
    .where('person_id', '=', personId)
    .where('day', '=', day)
    .execute();
}

/** The number of each wearer's newest job. */
export async function jobKeysOf(
  db: Db,
  shopId: string,
  wearerIds: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  if (wearerIds.length === 0) return new Map();
  const rows = await db
    .selectFrom('job')
    .select(['wearer_id', 'job_key'])
    .where('shop_id', '=', shopId)
    .where('wearer_id', 'in', [...wearerIds])
    .orderBy('created_at')
    .execute();
  return new Map(rows.map((row) => [row.wearer_id, row.job_key]));
}

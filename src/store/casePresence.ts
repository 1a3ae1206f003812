import type { Db } from './database.ts';

/** Somebody who has asked for a case within so long has it open: an open page asks every five seconds. */
const OPEN_MS = 16_000;

/** Notes that a person has a case open, and tells who else has. */
export async function openWith(
  db: Db,
  shopId: string,
  caseId: string,
  me: { readonly personId: string; readonly name: string },
  now: Date,
): Promise<string[]> {
  await db
    .insertInto('case_open_with')
    .values({ shop_id: shopId, case_id: caseId, person_id: me.personId, person_name: me.name, at: now })
    .onConflict((clash) => clash.columns(['shop_id', 'case_id', 'person_id']).doUpdateSet({ at: now }))
    .execute();
  const others = await db
    .selectFrom('case_open_with')
    .select('person_name')
    .where('shop_id', '=', shopId)
    .where('case_id', '=', caseId)
    .where('person_id', '<>', me.personId)
    .where('at', '>=', new Date(now.getTime() - OPEN_MS))
    .orderBy('person_name')
    .execute();
  return others.map((one) => one.person_name);
}

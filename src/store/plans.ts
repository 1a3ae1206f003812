import type { Selectable } from 'kysely';
import type { Db, Trx } from './database.ts';
import type { CheckInState, PlanState, Tables } from './tables.ts';

export type CheckIn = Selectable<Tables['check_in']>;
export type Plan = Selectable<Tables['plan']>;

export async function markCheckIns(
  trx: Trx,
  shopId: string,
  checkInIds: readonly string[],
  state: CheckInState,
  why: string | null,
  messageId: string | null = null,
): Promise<number> {
  if (checkInIds.length === 0) return 0;
  const done = await trx
    .updateTable('check_in')
    .set({ state, why, message_id: messageId })
    .where('shop_id', '=', shopId)
    .where('check_in_id', 'in', [...checkInIds])
    .where('state', '=', 'planned')
    .executeTakeFirst();
  return Number(done.numUpdatedRows);
}

export async function setPlan(
  trx: Trx,
  shopId: string,
  pairId: string,
  state: PlanState,
  why: string | null,
  at: Date,
): Promise<void> {
  await trx
    .updateTable('plan')
    .set({ state, why, since: at })
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .where('state', '<>', 'ended')
    .execute();
}

export async function endPlansOf(
  trx: Trx,
  shopId: string,
  wearerId: string,
  why: string,
  at: Date,
): Promise<void> {
  await trx
    .updateTable('plan')
    .set({ state: 'ended', why, since: at })
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .where('state', '<>', 'ended')
    .execute();
}

export async function planOf(db: Db | Trx, shopId: string, pairId: string): Promise<Plan | undefined> {
  return db
    .selectFrom('plan')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .executeTakeFirst();
}

/** Puts the check-ins of a pair on record; a slot that is there already stays as it is. */
export async function addCheckIns(trx: Trx, rows: readonly CheckIn[]): Promise<void> {
  if (rows.length === 0) return;
  await trx
    .insertInto('check_in')
    .values([...rows])
    .onConflict((clash) => clash.columns(['shop_id', 'pair_id', 'slot']).doNothing())
    .execute();
}

export async function dropPlanned(
  trx: Trx,
  shopId: string,
  pairId: string,
  why: string,
  keepSlotsLike?: string,
): Promise<void> {
  let update = trx
    .updateTable('check_in')
    .set({ state: 'dropped', why })
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .where('state', '=', 'planned');
  if (keepSlotsLike !== undefined) update = update.where('slot', 'not like', keepSlotsLike);
  await update.execute();
}

/** A closing was taken back: the plan stands as before, and check-ins that it dropped and that are still to come are planned. */
export async function takeBackDropped(
  trx: Trx,
  shopId: string,
  pairId: string,
  plan: { readonly state: PlanState; readonly why: string | null },
  droppedWhy: string,
  now: Date,
): Promise<void> {
  await trx
    .updateTable('plan')
    .set({ ...plan, since: now })
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .execute();
  await trx
    .updateTable('check_in')
    .set({ state: 'planned', why: null })
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .where('state', '=', 'dropped')
    .where('why', '=', droppedWhy)
    .where('due_at', '>', now)
    .execute();
}

import type { Trx } from '../store/database.ts';
import type { Wearer } from '../store/wearers.ts';

type Held = Pick<Wearer, 'automatic_held_why'>;

/** Automatic messages wait while a person holds the wearer's case, and while staff or the wearer's words have held them. */
export async function heldWhy(trx: Trx, shopId: string, wearer: Held & Pick<Wearer, 'wearer_id'>) {
  const held = await trx
    .selectFrom('case_file')
    .select(['held_by'])
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearer.wearer_id)
    .where('closed_at', 'is', null)
    .where((or) => or.or([or('held_by', 'is not', null), or('danger', '=', true)]))
    .limit(1)
    .executeTakeFirst();
  return whyHeld(wearer, held && (held.held_by ?? ''));
}

/** The reason in words; `heldBy` is who holds an open case, '' where a danger sign waits for one, nothing where neither is so. */
export function whyHeld(wearer: Held, heldBy: string | null | undefined): string | null {
  if (wearer.automatic_held_why !== null) return wearer.automatic_held_why;
  if (heldBy === null || heldBy === undefined) return null;
  return heldBy === '' ? 'a danger sign waits for a person' : `held by ${heldBy}`;
}

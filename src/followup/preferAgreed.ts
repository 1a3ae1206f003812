import type { Trx } from '../store/database.ts';
import type { ChannelKind } from '../store/tables.ts';
import { contactsOf, type Wearer } from '../store/wearers.ts';

/**
 * Who had agreed to no messages is down for the phone, as nothing else was left. When the first yes comes, at the hand-over or
 * by HELLO, it is also how they are reached from now on; staff can set the phone again on the wearer's page. Called before
 * the consent is put on record.
 */
export async function preferAgreed(
  trx: Trx,
  shopId: string,
  wearer: Pick<Wearer, 'wearer_id' | 'prefers'>,
  agreed: readonly ChannelKind[],
): Promise<void> {
  const [way] = agreed;
  if (wearer.prefers !== 'phone' || way === undefined) return;
  const before = await contactsOf(trx, shopId, wearer.wearer_id);
  if (before.some((one) => one.consent === 'given')) return;
  await trx
    .updateTable('wearer')
    .set({ prefers: way })
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearer.wearer_id)
    .execute();
}

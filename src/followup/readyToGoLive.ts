import { cautionReady } from '../../templates/renderMessage.ts';
import { findShop } from '../store/shops.ts';
import { reachablePeople } from './alarmPeople.ts';
import type { Shell } from './shell.ts';
import { shopWords } from './words.ts';

/**
 * What keeps real carriers off although they are set: without local numbers no caution can be written, and without someone on
 * call whom a carrier can reach no danger comes to a person. Empty: they may be used.
 */
export async function keepsOff(
  shell: Pick<Shell, 'db'>,
  carrier: Shell['carrier'],
  shopId: string,
): Promise<string[]> {
  const shop = await findShop(shell.db, shopId);
  const missing: string[] = [];
  if (!cautionReady(shopWords(shop))) missing.push('local numbers');
  if ((await reachablePeople(shell.db, carrier, shopId)).length === 0) {
    missing.push('someone on call with a number or an address');
  }
  return missing;
}

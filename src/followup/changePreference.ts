import { bad, type Checked, good } from '../problems.ts';
import { lockWearer, type Wearer } from '../store/wearers.ts';
import type { Shell } from './shell.ts';
import { noSuchWearer } from './stopByStaff.ts';

const WAYS: readonly Wearer['prefers'][] = ['text', 'email', 'phone'];

/** How a wearer likes to be reached. It is a wish, not consent: nobody is written to without having agreed. */
export async function changePreference(
  shell: Shell,
  shopId: string,
  wearerId: string,
  prefers: string,
): Promise<Checked<{ prefers: Wearer['prefers'] }>> {
  const way = WAYS.find((one) => one === prefers);
  if (!way) {
    return bad({
      code: 'prefers',
      what: `“${prefers}” is no way to reach somebody.`,
      where: 'prefers',
      mend: 'Choose text, email or phone.',
    });
  }
  return shell.db.transaction().execute(async (trx) => {
    if (!(await lockWearer(trx, shopId, wearerId))) return bad(noSuchWearer);
    await trx
      .updateTable('wearer')
      .set({ prefers: way })
      .where('shop_id', '=', shopId)
      .where('wearer_id', '=', wearerId)
      .execute();
    return good({ prefers: way });
  });
}

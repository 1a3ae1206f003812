import { bad, type Checked, good, type Problem } from '../problems.ts';
import type { ChannelKind } from '../store/tables.ts';
import { changeConsent, lockWearer } from '../store/wearers.ts';
import type { Shell } from './shell.ts';

export const TOLD_TO_STAFF = 'told to staff';

export const noSuchWearer: Problem = {
  code: 'no-wearer',
  what: 'There is no such wearer.',
  where: 'wearer',
  mend: 'Open it again from Wearers.',
};

/**
 * A wearer told somebody at the shop to stop writing. It holds at once, also for what is on its way: consent is read again at
 * the moment of sending. A doubt about earlier words ("may mean stop") is settled by a stop of everything.
 */
export async function stopByStaff(
  shell: Shell,
  shopId: string,
  wearerId: string,
  channel: string,
  why: string,
  by: string,
): Promise<Checked<{ channels: readonly ChannelKind[] }>> {
  const channels = CHANNELS[channel];
  if (!channels) {
    return bad({
      code: 'channel',
      what: `“${channel}” is no way of writing.`,
      where: 'channel',
      mend: 'Choose text, email or all.',
    });
  }
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const wearer = await lockWearer(trx, shopId, wearerId);
    if (!wearer) return bad(noSuchWearer);
    const words = why === '' ? null : why.slice(0, 500);
    await changeConsent(
      trx,
      shopId,
      { wearerId, channels, act: 'withdrawn', basis: TOLD_TO_STAFF, words, by },
      now,
    );
    if (channel === 'all' && wearer.automatic_held_why !== null) {
      await trx
        .updateTable('wearer')
        .set({ automatic_held_why: null })
        .where('shop_id', '=', shopId)
        .where('wearer_id', '=', wearerId)
        .execute();
    }
    return good({ channels });
  });
}

const CHANNELS: Readonly<Record<string, readonly ChannelKind[] | undefined>> = {
  __proto__: null as never,
  text: ['text'],
  email: ['email'],
  all: ['text', 'email'],
};

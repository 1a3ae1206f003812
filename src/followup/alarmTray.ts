import { putAlarm, type TrayWaiting, trayUntold } from '../store/alarms.ts';
import { findShop, type Shop } from '../store/shops.ts';
import { reachablePeople } from './alarmPeople.ts';
import { isOpen } from './openHours.ts';
import type { Shell } from './shell.ts';

/** So many open hours a message may wait in the tray before somebody on call is told, once. */
const OPEN_HOURS = 2;
const STEP_MS = 15 * 60_000;
/** Open hours are counted back so far and no further: a shop that is shut for longer has been open before. */
const LOOK_BACK_MS = 14 * 86_400_000;
const MOST = 200;

/** Raises one alarm for all messages of a shop's tray that have waited too long and of which nobody was told yet. */
export async function watchTray(shell: Shell): Promise<void> {
  const now = shell.clock.now();
  const untold = await trayUntold(shell.db, new Date(now.getTime() - OPEN_HOURS * 3_600_000), MOST);
  for (const shopId of new Set(untold.map((one) => one.shop_id))) {
    if ((await reachablePeople(shell.db, shell.carrier, shopId)).length === 0) continue;
    const shop = await findShop(shell.db, shopId);
    const late = untold.filter((one) => one.shop_id === shopId && hasWaited(shop, one, now));
    if (late.length > 0) await tellOfTray(shell, shopId, late, now);
  }
}

async function tellOfTray(shell: Shell, shopId: string, late: readonly TrayWaiting[], now: Date) {
  await shell.db.transaction().execute(async (trx) => {
    const about = { kind: 'tray', caseId: null, wearerId: null, initial: '', waiting: late.length } as const;
    for (const { inbound_id } of late) await putAlarm(trx, shopId, { ...about, subjectId: inbound_id }, now);
    const [first, ...others] = late.map((one) => one.inbound_id);
    if (others.length === 0) return;
    await trx
      .updateTable('alarm')
      .set({ ended_at: now, ended_why: `told together with ${first}` })
      .where('shop_id', '=', shopId)
      .where('kind', '=', 'tray')
      .where('subject_id', 'in', others)
      .execute();
  });
}

/** True when the shop has been open for two hours since the message came, by quarters of an hour. */
function hasWaited(shop: Shop, waiting: TrayWaiting, now: Date): boolean {
  const from = Math.max(waiting.received_at.getTime(), now.getTime() - LOOK_BACK_MS);
  let openMs = 0;
  for (let at = from; at + STEP_MS <= now.getTime(); at += STEP_MS) {
    if (isOpen(shop, new Date(at))) openMs += STEP_MS;
    if (openMs >= OPEN_HOURS * 3_600_000) return true;
  }
  return false;
}

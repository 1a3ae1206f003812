import { dayOfWearAt, nextCivil } from '../channels/civilHours.ts';
import type { ValidJob } from '../intake/job.ts';
import { readZone } from '../intake/zones.ts';
import { bad, type Checked, good } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import type { Trx } from '../store/database.ts';
import { findShop, type Shop } from '../store/shops.ts';
import { lockWearer } from '../store/wearers.ts';
import { ASK_HOUR } from './planSlots.ts';
import type { Shell } from './shell.ts';
import { noSuchWearer } from './stopByStaff.ts';
import { type WearerZones, wearerZones } from './wearerZones.ts';

/**
 * Staff set the time zone of a wearer by its IANA name; with an empty name it is worked out again from what the job says.
 * Everything that is still planned for the wearer moves to the same hour of the new clock.
 */
export async function mendZone(
  shell: Shell,
  shopId: string,
  wearerId: string,
  typed: string,
  by: string,
): Promise<Checked<WearerZones>> {
  const read = typed.trim() === '' ? undefined : readZone(typed, 'time_zone');
  if (read && !read.ok) return read;
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const wearer = await lockWearer(trx, shopId, wearerId);
    if (!wearer) return bad(noSuchWearer);
    const shop = await findShop(trx, shopId);
    const { zones, how } = read
      ? { zones: [read.value], how: `set by ${by}` }
      : await workedOut(trx, shop, wearerId);
    await trx
      .updateTable('wearer')
      .set({
        time_zone: zones.length === 1 ? zones[0]! : null,
        zone_candidates: [...zones],
        zone_how: how,
      })
      .where('shop_id', '=', shopId)
      .where('wearer_id', '=', wearerId)
      .execute();
    await moveCheckIns(trx, shopId, wearerId, zones, now);
    await addAudit(
      trx,
      shopId,
      { by, act: 'zone mended', subject: wearerId, detail: { was: wearer.zone_candidates, is: zones, how } },
      now,
    );
    return good({ zones, how });
  });
}

/** What the wearer's first job says of where they live; without any job they were met at the counter. */
async function workedOut(trx: Trx, shop: Shop, wearerId: string): Promise<WearerZones> {
  const first = await trx
    .selectFrom('job')
    .select('as_taken')
    .where('shop_id', '=', shop.shop_id)
    .where('wearer_id', '=', wearerId)
    .orderBy('job_id')
    .limit(1)
    .executeTakeFirst();
  const job = first?.as_taken as Partial<ValidJob> | undefined;
  if (!job?.wearer) return { zones: [shop.time_zone], how: "the shop's, met at the counter" };
  return wearerZones(shop, { wearer: job.wearer, way: job.way ?? 'counter' });
}

/** Everything still planned for a wearer moves to the same hour of the clock that now holds. */
export async function moveCheckIns(
  trx: Trx,
  shopId: string,
  wearerId: string,
  zones: readonly string[],
  now: Date,
): Promise<void> {
  const planned = await trx
    .selectFrom('check_in')
    .select(['check_in_id', 'kind', 'due_on'])
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .where('state', '=', 'planned')
    .execute();
  for (const one of planned) {
    const due = dayOfWearAt(zones, one.due_on, 0, ASK_HOUR);
    // Tips go as soon as it is civil; what was put off already goes at the next civil hour of the new clock.
    const dueAt = one.kind === 'tips' || due < now ? nextCivil(now, zones) : due;
    await trx
      .updateTable('check_in')
      .set({ due_at: dueAt })
      .where('shop_id', '=', shopId)
      .where('check_in_id', '=', one.check_in_id)
      .where('state', '=', 'planned')
      .execute();
  }
}

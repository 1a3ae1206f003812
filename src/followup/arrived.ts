import type { Trx } from '../store/database.ts';
import type { Pair } from '../store/jobs.ts';
import { addCheckIns, type CheckIn } from '../store/plans.ts';
import type { Wearer } from '../store/wearers.ts';
import { startWearing } from './applyToPlan.ts';
import { checkInRows } from './pairRows.ts';
import { planSlots } from './planSlots.ts';

/** A posted pair is known to have come: the questions "have they come" end, tips go if it is fresh, day 0 is set. */
export async function arrived(
  trx: Trx,
  shopId: string,
  wearer: Wearer,
  pairId: string,
  dayZero: string,
  how: Pair['first_worn_how'],
  now: Date,
): Promise<void> {
  await startWearing(trx, shopId, wearer, pairId, dayZero, now, how);
  const tips = planSlots({
    dayZero,
    zones: wearer.zone_candidates,
    now,
    round: 1,
    withTips: true,
  }).filter((slot) => slot.kind === 'tips');
  await addCheckIns(trx, checkInRows(shopId, pairId, wearer.wearer_id, tips, now) as CheckIn[]);
}

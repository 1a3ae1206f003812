import type { Trx } from '../store/database.ts';
import type { Pair } from '../store/jobs.ts';
import {
  addCheckIns,
  type CheckIn,
  dropPlanned,
  endPlansOf,
  type Plan,
  planOf,
  setPlan,
} from '../store/plans.ts';
import type { Wearer } from '../store/wearers.ts';
import { checkInRows } from './pairRows.ts';
import { addDays, haveTheyComeSlots, localDay, planSlots } from './planSlots.ts';
import type { Inbound, Understood } from './sortInbound.ts';
import { TROUBLES, WRONG_NUMBER } from './troubles.ts';

export const NOT_ARRIVED = 'says that they have not come';
/** After "they have not come" the wearer is asked again on these days. */
const ASK_AGAIN_DAYS = [3, 7] as const;

/** What a reply does to the plan of the pair: pause, move, end, or leave only day 30. */
export async function applyToPlan(
  trx: Trx,
  shopId: string,
  wearer: Wearer,
  pairId: string,
  plan: Pick<Plan, 'state' | 'why'> | undefined,
  reading: Understood,
  inbound: Inbound,
  now: Date,
): Promise<void> {
  const says = (label: (typeof reading.labels)[number]) => reading.labels.includes(label);
  if (says('wrong-number')) {
    await endPlansOf(trx, shopId, wearer.wearer_id, 'wrong number', now);
    await markWrong(trx, shopId, inbound);
    return;
  }
  if (says('not-arrived')) {
    await moveDayZero(trx, shopId, wearer, pairId, now);
    return;
  }
  if (
    plan?.state === 'paused' &&
    !says('stop') &&
    !says('help') &&
    (plan.why === NOT_ARRIVED || plan.why === 'not known to have come')
  ) {
    await startWearing(
      trx,
      shopId,
      wearer,
      pairId,
      localDay(inbound.receivedAt, wearer.zone_candidates[0]!),
      now,
    );
  }
  if (says('wants-money-back')) await setPlan(trx, shopId, pairId, 'paused', 'wants the money back', now);
  if (
    says('settled') &&
    !hasTrouble(reading) &&
    (await settledBefore(trx, shopId, wearer.wearer_id, inbound))
  ) {
    await dropPlanned(trx, shopId, pairId, 'settled twice running', 'day 30%');
  }
}

const hasTrouble = (reading: Understood): boolean => reading.labels.some((label) => TROUBLES.has(label));

async function markWrong(trx: Trx, shopId: string, inbound: Inbound): Promise<void> {
  if (inbound.channel !== 'text' && inbound.channel !== 'email') return;
  await trx
    .updateTable('contact_point')
    .set({ unusable_why: WRONG_NUMBER })
    .where('shop_id', '=', shopId)
    .where('channel', '=', inbound.channel)
    .where('address', '=', inbound.from)
    .execute();
}

/** "Not here yet": the plan waits, day 0 moves, no case is opened, and the wearer is asked again in a few days. */
async function moveDayZero(
  trx: Trx,
  shopId: string,
  wearer: Wearer,
  pairId: string,
  now: Date,
): Promise<void> {
  const zones = wearer.zone_candidates;
  const today = localDay(now, zones[0]!);
  await dropPlanned(trx, shopId, pairId, NOT_ARRIVED);
  await setPlan(trx, shopId, pairId, 'paused', NOT_ARRIVED, now);
  await trx
    .updateTable('pair')
    .set({ first_worn_on: addDays(today, ASK_AGAIN_DAYS[0]), first_worn_how: 'reckoned' })
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .execute();
  const slots = haveTheyComeSlots({ since: today, days: ASK_AGAIN_DAYS, zones, now, round: 1 });
  await addCheckIns(trx, checkInRows(shopId, pairId, wearer.wearer_id, slots, now) as CheckIn[]);
}

/** The glasses have come: day 0 is the day on which the wearer said so, or that staff know, and the questions run from it. */
export async function startWearing(
  trx: Trx,
  shopId: string,
  wearer: Wearer,
  pairId: string,
  dayZero: string,
  now: Date,
  how: Pair['first_worn_how'] = 'said by the wearer',
): Promise<void> {
  const plan = await planOf(trx, shopId, pairId);
  if (!plan || plan.state === 'ended') return;
  const zones = wearer.zone_candidates;
  await dropPlanned(trx, shopId, pairId, 'they have come');
  await trx
    .updateTable('pair')
    .set({ first_worn_on: dayZero, first_worn_how: how })
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .execute();
  const round = plan.round + 1;
  await trx
    .updateTable('plan')
    .set({ round, state: 'running', why: null, since: now })
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', pairId)
    .execute();
  const slots = planSlots({ dayZero, zones, now, round, withTips: false });
  await addCheckIns(trx, checkInRows(shopId, pairId, wearer.wearer_id, slots, now) as CheckIn[]);
}

/** True when the wearer's reply before this one said that all is well, and nothing else. */
async function settledBefore(trx: Trx, shopId: string, wearerId: string, inbound: Inbound): Promise<boolean> {
  const before = await trx
    .selectFrom('inbound_standing as s')
    .innerJoin('reading as r', (join) =>
      join.onRef('r.shop_id', '=', 's.shop_id').onRef('r.inbound_id', '=', 's.inbound_id'),
    )
    .select('r.labels')
    .where('s.shop_id', '=', shopId)
    .where('s.wearer_id', '=', wearerId)
    .where('s.inbound_id', '<>', inbound.inboundId)
    .where('s.received_at', '<=', inbound.receivedAt)
    .orderBy('s.received_at', 'desc')
    .orderBy('r.at', 'desc')
    .limit(1)
    .executeTakeFirst();
  return (
    before?.labels.includes('settled') === true &&
    !before.labels.some((label) => TROUBLES.has(label as never))
  );
}

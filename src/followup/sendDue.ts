import { isCivil, nextCivil } from '../channels/civilHours.ts';
import type { Trx } from '../store/database.ts';
import { unaskedSince, writeMessage } from '../store/messages.ts';
import { type CheckIn, dueCheckIns, markCheckIns, putOffCheckIns, wearersDue } from '../store/plans.ts';
import { findShop } from '../store/shops.ts';
import { contactsOf, lockWearer, type Wearer } from '../store/wearers.ts';
import { type DueDecision, decideDue } from './decideDue.ts';
import { nextDayCivil, sameLocalDay } from './localDays.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';
import { checkInLetter, say } from './words.ts';

const WEARERS_A_TICK = 500;
const DAYS_30_MS = 30 * 86_400_000;

/**
 * Turns check-ins that are due into messages. A wearer is locked while it is decided, so that any number of processes and
 * any number of lost or doubled ticks come to the same: one message for a check-in, one unasked message a day.
 */
export async function sendDue(shell: Shell): Promise<number> {
  const now = shell.clock.now();
  let written = 0;
  for (const due of await wearersDue(shell.db, now, WEARERS_A_TICK)) {
    try {
      written += await shell.db
        .transaction()
        .execute((trx) =>
          decideForWearer(trx, due.shop_id, due.wearer_id, now, shell.links?.(due.shop_id)?.base),
        );
    } catch (error) {
      // One wearer's trouble does not keep the others waiting; the check-in stays due and is tried at the next tick.
      shell.log.error(
        { shop: due.shop_id, wearer: due.wearer_id, error: String(error) },
        'a due check-in failed',
      );
    }
  }
  return written;
}

async function decideForWearer(
  trx: Trx,
  shopId: string,
  wearerId: string,
  now: Date,
  linksAt: string | undefined,
): Promise<number> {
  const wearer = await lockWearer(trx, shopId, wearerId);
  if (!wearer) return 0;
  const due = await dueCheckIns(trx, shopId, wearerId, now);
  const contacts = await contactsOf(trx, shopId, wearerId);
  const usable = contacts.filter((one) => one.consent === 'given' && one.unusable_why === null);
  const unasked = await unaskedSince(trx, shopId, wearerId, new Date(now.getTime() - DAYS_30_MS));
  const zones = wearer.zone_candidates;
  const last = await lastInbound(trx, shopId, wearerId);
  const decision = decideDue({
    nowMs: now.getTime(),
    due: due.map((one) => ({ checkInId: one.check_in_id, kind: one.kind, dueMs: one.due_at.getTime() })),
    unaskedMs: unasked.map((at) => at.getTime()),
    lastInboundMs: last?.getTime() ?? null,
    civilNow: isCivil(now, zones),
    nextCivilMs: nextCivil(now, zones).getTime(),
    nextDayCivilMs: nextDayCivil(now, zones).getTime(),
    unaskedToday: unasked.some((at) => sameLocalDay(at, now, zones)),
    prefers: wearer.prefers,
    channels: usable.map((one) => one.channel),
    heldWhy: await heldWhy(trx, shopId, wearer),
  });
  await carryOut(trx, shopId, decision);
  if (!decision.send) return 0;
  const checkIn = due.find((one) => one.check_in_id === decision.send!.checkInId)!;
  const contact = usable.find((one) => one.channel === decision.send!.channel)!;
  return writeCheckIn(trx, shopId, wearer, checkIn, contact, now, linksAt);
}

async function carryOut(trx: Trx, shopId: string, decision: DueDecision): Promise<void> {
  await markCheckIns(trx, shopId, decision.passOver, 'passed over', 'a newer question was due');
  await markCheckIns(trx, shopId, decision.drop.checkInIds, 'dropped', decision.drop.why);
  await markCheckIns(trx, shopId, decision.toRing, 'to ring', 'prefers the phone');
  const { checkInIds, untilMs, why } = decision.postpone;
  await putOffCheckIns(trx, shopId, checkInIds, new Date(untilMs), why);
}

async function writeCheckIn(
  trx: Trx,
  shopId: string,
  wearer: Wearer,
  checkIn: CheckIn,
  contact: { contact_id: string; channel: 'text' | 'email' },
  now: Date,
  linksAt: string | undefined,
): Promise<number> {
  const shop = await findShop(trx, shopId);
  const first = await isFirst(trx, shopId, wearer.wearer_id, contact.contact_id);
  const job = await trx
    .selectFrom('job as j')
    .innerJoin('pair as p', (join) =>
      join.onRef('p.shop_id', '=', 'j.shop_id').onRef('p.job_id', '=', 'j.job_id'),
    )
    .innerJoin('lens_design as d', (join) =>
      join.onRef('d.shop_id', '=', 'j.shop_id').onRef('d.design_id', '=', 'j.design_id'),
    )
    .select(['j.way', 'j.first_multifocal', 'd.light_reactive', 'p.replaces_pair_id'])
    .where('p.shop_id', '=', shopId)
    .where('p.pair_id', '=', checkIn.pair_id)
    .executeTakeFirstOrThrow();
  const letter = checkInLetter({
    kind: checkIn.kind,
    day: checkIn.day,
    way: job.way,
    firstMultifocal: job.first_multifocal !== false,
    lightReactive: job.light_reactive !== null,
    replaces: job.replaces_pair_id !== null,
  });
  const said = say(shop, wearer, contact.channel, letter, { first, linksAt });
  const messageId = await writeMessage(
    trx,
    shopId,
    {
      onceKey: `check-in:${checkIn.check_in_id}`,
      wearerId: wearer.wearer_id,
      pairId: checkIn.pair_id,
      checkInId: checkIn.check_in_id,
      purpose: 'check-in',
      unasked: true,
      automatic: true,
      channel: contact.channel,
      contactId: contact.contact_id,
      ...said,
      localDay: localDay(now, wearer.zone_candidates[0]!),
      sendAt: now,
    },
    now,
  );
  if (messageId === undefined) {
    // Another unasked message took this local day first; the check-in keeps its place and goes on the next one.
    await putOffCheckIns(
      trx,
      shopId,
      [checkIn.check_in_id],
      nextDayCivil(now, wearer.zone_candidates),
      'one unasked message a day',
    );
    return 0;
  }
  await markCheckIns(trx, shopId, [checkIn.check_in_id], 'claimed', null, messageId);
  return 1;
}

async function isFirst(trx: Trx, shopId: string, wearerId: string, contactId: string): Promise<boolean> {
  const earlier = await trx
    .selectFrom('message')
    .select('message_id')
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .where('contact_id', '=', contactId)
    .limit(1)
    .executeTakeFirst();
  return earlier === undefined;
}

async function lastInbound(trx: Trx, shopId: string, wearerId: string): Promise<Date | undefined> {
  const row = await trx
    .selectFrom('inbound_standing')
    .select((max) => max.fn.max('received_at').as('at'))
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .executeTakeFirst();
  return row?.at ?? undefined;
}

/** Automatic messages wait while a person holds the wearer's case, and while staff or the wearer's words have held them. */
export async function heldWhy(
  trx: Trx,
  shopId: string,
  wearer: Pick<Wearer, 'wearer_id' | 'automatic_held_why'>,
) {
  if (wearer.automatic_held_why !== null) return wearer.automatic_held_why;
  const held = await trx
    .selectFrom('case_file')
    .select(['held_by'])
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearer.wearer_id)
    .where('closed_at', 'is', null)
    .where((or) => or.or([or('held_by', 'is not', null), or('danger', '=', true)]))
    .limit(1)
    .executeTakeFirst();
  if (!held) return null;
  return held.held_by === null ? 'a danger sign waits for a person' : `held by ${held.held_by}`;
}

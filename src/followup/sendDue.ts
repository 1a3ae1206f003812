import { isCivil, nextCivil } from '../channels/civilHours.ts';
import type { Trx } from '../store/database.ts';
import {
  claimCheckIns,
  dueCheckInsOf,
  lockWearers,
  pairsToAskAbout,
  postponeCheckIns,
  usableContacts,
  type WearerLately,
  wearersLately,
} from '../store/dueBatch.ts';
import { type NewMessage, writeMessages } from '../store/messages.ts';
import { type CheckIn, markCheckIns, wearersDue } from '../store/plans.ts';
import { findShop, type Shop } from '../store/shops.ts';
import type { ReachableContact, Wearer } from '../store/wearers.ts';
import { type DueDecision, decideDue } from './decideDue.ts';
import { whyHeld } from './heldWhy.ts';
import { nextDayCivil, sameLocalDay } from './localDays.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';
import { checkInLetter, say } from './words.ts';

const WEARERS_AT_ONCE = 500;
const DAYS_30_MS = 30 * 86_400_000;
const ONE_A_DAY = 'one unasked message a day';

/**
 * Turns check-ins that are due into messages, of many wearers in one transaction. A wearer is locked while it is decided, so
 * that any number of processes and any number of lost or doubled ticks come to the same: one message for a check-in, one
 * unasked message a day. Returns how many were written.
 */
export async function sendDue(shell: Shell): Promise<number> {
  const now = shell.clock.now();
  const due = await wearersDue(shell.db, now, WEARERS_AT_ONCE);
  let written = 0;
  for (const shopId of new Set(due.map((one) => one.shop_id))) {
    const wearerIds = due.filter((one) => one.shop_id === shopId).map((one) => one.wearer_id);
    written += await decideTogether(shell, shopId, wearerIds, now);
  }
  return written;
}

/** One wearer's trouble does not keep the others waiting: what fails together is tried in halves, down to the one. */
async function decideTogether(
  shell: Shell,
  shopId: string,
  wearerIds: readonly string[],
  now: Date,
): Promise<number> {
  try {
    return await shell.db
      .transaction()
      .execute((trx) => decideFor(trx, shopId, wearerIds, now, shell.links?.(shopId)?.base));
  } catch (error) {
    if (wearerIds.length === 1) {
      // The check-in stays due and is tried at the next tick.
      shell.log.error({ shop: shopId, wearer: wearerIds[0], error: String(error) }, 'a due check-in failed');
      return 0;
    }
    const half = wearerIds.length >> 1;
    const first = await decideTogether(shell, shopId, wearerIds.slice(0, half), now);
    return first + (await decideTogether(shell, shopId, wearerIds.slice(half), now));
  }
}

type Contact = ReachableContact & { readonly written_to: boolean };
type ToWrite = { readonly wearer: Wearer; readonly checkIn: CheckIn; readonly contact: Contact };

async function decideFor(
  trx: Trx,
  shopId: string,
  wearerIds: readonly string[],
  now: Date,
  linksAt: string | undefined,
): Promise<number> {
  const wearers = await lockWearers(trx, shopId, wearerIds);
  const ids = wearers.map((one) => one.wearer_id);
  const due = filed(await dueCheckInsOf(trx, shopId, ids, now));
  const contacts = filed(await usableContacts(trx, shopId, ids));
  const lately = filed(await wearersLately(trx, shopId, ids, new Date(now.getTime() - DAYS_30_MS)));
  const hours = civilHoursAt(now);
  const decisions: DueDecision[] = [];
  const toWrite: ToWrite[] = [];
  for (const wearer of wearers) {
    const checkIns = due.get(wearer.wearer_id) ?? [];
    const usable = contacts.get(wearer.wearer_id) ?? [];
    const decision = decide(wearer, checkIns, usable, lately.get(wearer.wearer_id)?.[0], now, hours);
    decisions.push(decision);
    const { send } = decision;
    if (!send) continue;
    toWrite.push({
      wearer,
      checkIn: checkIns.find((one) => one.check_in_id === send.checkInId)!,
      contact: usable.find((one) => one.channel === send.channel)!,
    });
  }
  await carryOut(trx, shopId, decisions);
  return writeCheckIns(trx, shopId, toWrite, now, linksAt, hours);
}

function decide(
  wearer: Wearer,
  due: readonly CheckIn[],
  usable: readonly Contact[],
  lately: WearerLately | undefined,
  now: Date,
  hours: CivilHoursAt,
): DueDecision {
  const zones = wearer.zone_candidates;
  const unasked = lately?.unasked_at ?? [];
  const { civilNow, nextCivilMs, nextDayCivilMs } = hours(zones);
  return decideDue({
    nowMs: now.getTime(),
    due: due.map((one) => ({ checkInId: one.check_in_id, kind: one.kind, dueMs: one.due_at.getTime() })),
    unaskedMs: unasked.map((at) => at.getTime()),
    lastInboundMs: lately?.last_inbound_at?.getTime() ?? null,
    civilNow,
    nextCivilMs,
    nextDayCivilMs,
    unaskedToday: unasked.some((at) => sameLocalDay(at, now, zones)),
    prefers: wearer.prefers,
    channels: usable.map((one) => one.channel),
    heldWhy: whyHeld(wearer, lately?.held_by),
  });
}

async function carryOut(trx: Trx, shopId: string, decisions: readonly DueDecision[]): Promise<void> {
  const passOver = decisions.flatMap((one) => one.passOver);
  await markCheckIns(trx, shopId, passOver, 'passed over', 'a newer question was due');
  for (const why of new Set(decisions.map((one) => one.drop.why))) {
    const dropped = decisions.filter((one) => one.drop.why === why).flatMap((one) => one.drop.checkInIds);
    await markCheckIns(trx, shopId, dropped, 'dropped', why);
  }
  const toRing = decisions.flatMap((one) => one.toRing);
  await markCheckIns(trx, shopId, toRing, 'to ring', 'prefers the phone');
  await postponeCheckIns(
    trx,
    shopId,
    decisions.flatMap(({ postpone: { checkInIds, untilMs, why } }) =>
      checkInIds.map((checkInId) => ({ checkInId, until: new Date(untilMs), why })),
    ),
  );
}

async function writeCheckIns(
  trx: Trx,
  shopId: string,
  toWrite: readonly ToWrite[],
  now: Date,
  linksAt: string | undefined,
  hours: CivilHoursAt,
): Promise<number> {
  if (toWrite.length === 0) return 0;
  const shop = await findShop(trx, shopId);
  const asked = await pairsToAskAbout(
    trx,
    shopId,
    toWrite.map((one) => one.checkIn.pair_id),
  );
  const pairs = new Map(asked.map((pair) => [pair.pair_id, pair]));
  const letters = toWrite.map((one) =>
    letterOf(shop, one, pairs.get(one.checkIn.pair_id)!, now, linksAt, hours),
  );
  const ids = await writeMessages(trx, shopId, letters, now);
  const claimed: { checkInId: string; messageId: string }[] = [];
  const later: { checkInId: string; until: Date; why: string }[] = [];
  toWrite.forEach(({ wearer, checkIn }, at) => {
    const checkInId = checkIn.check_in_id;
    const messageId = ids.get(letters[at]!.onceKey);
    if (messageId !== undefined) claimed.push({ checkInId, messageId });
    // Another unasked message took this local day first; the check-in keeps its place and goes on the next one.
    else
      later.push({
        checkInId,
        until: new Date(hours(wearer.zone_candidates).nextDayCivilMs),
        why: ONE_A_DAY,
      });
  });
  await claimCheckIns(trx, shopId, claimed);
  await postponeCheckIns(trx, shopId, later);
  return claimed.length;
}

type AskedAbout = Awaited<ReturnType<typeof pairsToAskAbout>>[number];

function letterOf(
  shop: Shop,
  { wearer, checkIn, contact }: ToWrite,
  pair: AskedAbout,
  now: Date,
  linksAt: string | undefined,
  hours: CivilHoursAt,
): NewMessage {
  const letter = checkInLetter({
    kind: checkIn.kind,
    day: checkIn.day,
    way: pair.way,
    firstMultifocal: pair.first_multifocal !== false,
    lightReactive: pair.light_reactive !== null,
    replaces: pair.replaces_pair_id !== null,
  });
  return {
    onceKey: `check-in:${checkIn.check_in_id}`,
    wearerId: wearer.wearer_id,
    pairId: checkIn.pair_id,
    checkInId: checkIn.check_in_id,
    purpose: 'check-in',
    unasked: true,
    automatic: true,
    channel: contact.channel,
    contactId: contact.contact_id,
    ...say(shop, wearer, contact.channel, letter, { first: !contact.written_to, linksAt }),
    localDay: hours(wearer.zone_candidates).localDay,
    sendAt: now,
  };
}

type CivilHoursAt = (zones: readonly string[]) => {
  readonly civilNow: boolean;
  readonly nextCivilMs: number;
  readonly nextDayCivilMs: number;
  readonly localDay: string;
};

/** What the clock says where wearers are, reckoned once for each set of zones. */
function civilHoursAt(now: Date): CivilHoursAt {
  const known = new Map<string, ReturnType<CivilHoursAt>>();
  return (zones) => {
    const key = zones.join(' ');
    const found = known.get(key) ?? {
      civilNow: isCivil(now, zones),
      nextCivilMs: nextCivil(now, zones).getTime(),
      nextDayCivilMs: nextDayCivil(now, zones).getTime(),
      localDay: localDay(now, zones[0]!),
    };
    known.set(key, found);
    return found;
  };
}

function filed<Row extends { readonly wearer_id: string }>(rows: readonly Row[]): Map<string, Row[]> {
  const byWearer = new Map<string, Row[]>();
  for (const row of rows) {
    const there = byWearer.get(row.wearer_id);
    if (there) there.push(row);
    else byWearer.set(row.wearer_id, [row]);
  }
  return byWearer;
}

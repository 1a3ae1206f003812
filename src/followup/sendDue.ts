import { newId } from '../ids.ts';
import type { Trx } from '../store/database.ts';
import {
  type CheckInToWrite,
  type DueCheckIn,
  type DueWearer,
  dueCheckInsOf,
  lockWearers,
  postponeCheckIns,
  takeDueWearers,
  type UsableContact,
  usableContacts,
  type WearerLately,
  wearersLately,
  writeCheckIns,
} from '../store/dueBatch.ts';
import { holds } from '../store/holds.ts';
import { keepLinks, type NewLink } from '../store/links.ts';
import { LEASE_MS } from '../store/messages.ts';
import { markCheckIns } from '../store/plans.ts';
import { findShop, type Shop } from '../store/shops.ts';
import { type DueDecision, decideDue } from './decideDue.ts';
import { AT_ONCE, giveToCarriers, MOST_AT_ONCE, nextAtOnce, type ToGive } from './giveToCarriers.ts';
import { whyHeld } from './heldWhy.ts';
import { newLinks, placesOf, spoken } from './letterLinks.ts';
import type { Shell } from './shell.ts';
import { hoursOf, type WearersHours } from './wearersHours.ts';
import { checkInLetter, sayToMany } from './words.ts';

/** Lots that are worked on at a time. */
const LANES = 2;
const DAYS_30_MS = 30 * 86_400_000;
const ONE_A_DAY = 'one unasked message a day';

/**
 * Turns check-ins that are due into messages, of many wearers in one transaction, and gives them to their carriers. A wearer is
 * locked while it is decided, so that any number of processes and any number of lost or doubled ticks come to the same: one
 * message for a check-in, one unasked message a day. What may leave at once is on record as handed over in that same
 * transaction; what cannot waits for `deliver`. Returns how many were written, `most` and at most two lots more.
 */
export async function sendDue(shell: Shell, most = Number.POSITIVE_INFINITY): Promise<number> {
  const troubled = new Set<string>();
  let written = 0;
  let failed = false;
  const lane = async (): Promise<void> => {
    let atOnce = AT_ONCE / LANES;
    while (written < most && !failed) {
      const lot = await takeLot(shell, atOnce, troubled);
      if (lot.looked === 0) return;
      written += lot.written;
      const began = performance.now();
      await giveToCarriers(shell, lot.going, lot.now);
      atOnce = nextAtOnce(atOnce, performance.now() - began, MOST_AT_ONCE / LANES);
    }
  };
  const oneLane = () =>
    lane().catch((error: unknown) => {
      failed = true;
      throw error;
    });
  // All have ended before this does, also where one fails: nothing is given to a carrier behind the caller's back.
  const ended = await Promise.allSettled(Array.from({ length: LANES }, oneLane));
  for (const one of ended) if (one.status === 'rejected') throw one.reason;
  return written;
}

type Lot = { looked: number; written: number; going: ToGive[]; readonly now: Date };

/** Decides for the wearers who have waited longest, whatever comes of it for each. */
async function takeLot(shell: Shell, limit: number, troubled: Set<string>): Promise<Lot> {
  const now = shell.clock.now();
  let taken: readonly DueWearer[] = [];
  try {
    return await shell.db.transaction().execute(async (trx) => {
      taken = await takeDueWearers(trx, now, limit, [...troubled]);
      const lot: Lot = { looked: taken.length, written: 0, going: [], now };
      for (const [shopId, wearers] of filed(taken, 'shop_id')) {
        const { written, going } = await decideFor(shell, trx, shopId, wearers, now);
        lot.written += written;
        lot.going.push(...going);
      }
      return lot;
    });
  } catch (error) {
    if (taken.length === 0) throw error;
    const lot: Lot = { looked: taken.length, written: 0, going: [], now };
    for (const [shopId, wearers] of filed(taken, 'shop_id')) {
      const ids = wearers.map((one) => one.wearer_id);
      await decideInHalves(shell, shopId, ids, now, error, troubled, lot);
    }
    return lot;
  }
}

/** One wearer's trouble does not keep the others waiting: what fails together is tried in halves, down to the one. */
async function decideInHalves(
  shell: Shell,
  shopId: string,
  wearerIds: readonly string[],
  now: Date,
  error: unknown,
  troubled: Set<string>,
  lot: Lot,
): Promise<void> {
  if (wearerIds.length === 1) {
    // The check-in stays due and is tried at the next tick.
    shell.log.error({ shop: shopId, wearer: wearerIds[0], error: String(error) }, 'a due check-in failed');
    troubled.add(wearerIds[0]!);
    return;
  }
  const half = wearerIds.length >> 1;
  for (const part of [wearerIds.slice(0, half), wearerIds.slice(half)]) {
    try {
      const { written, going } = await shell.db
        .transaction()
        .execute(async (trx) => decideFor(shell, trx, shopId, await lockWearers(trx, shopId, part), now));
      lot.written += written;
      lot.going.push(...going);
    } catch (failed) {
      await decideInHalves(shell, shopId, part, now, failed, troubled, lot);
    }
  }
}

type ToWrite = {
  readonly wearer: DueWearer;
  readonly hours: WearersHours;
  readonly checkIn: DueCheckIn;
  readonly contact: UsableContact;
};
type Written = { readonly written: number; readonly going: readonly ToGive[] };

async function decideFor(
  shell: Shell,
  trx: Trx,
  shopId: string,
  wearers: readonly DueWearer[],
  now: Date,
): Promise<Written> {
  const ids = wearers.map((one) => one.wearer_id);
  const [shop, held, checkIns, usable, went] = await Promise.all([
    findShop(trx, shopId),
    holds(trx),
    dueCheckInsOf(trx, shopId, ids, now),
    usableContacts(trx, shopId, ids),
    wearersLately(trx, shopId, ids, new Date(now.getTime() - DAYS_30_MS)),
  ]);
  const due = filed(checkIns, 'wearer_id');
  const contacts = filed(usable, 'wearer_id');
  const lately = filed(went, 'wearer_id');
  const hoursHere = hoursOf(now);
  const decisions: DueDecision[] = [];
  const toWrite: ToWrite[] = [];
  for (const wearer of wearers) {
    const own = due.get(wearer.wearer_id) ?? [];
    const reach = contacts.get(wearer.wearer_id) ?? [];
    const hours = hoursHere(wearer.zone_candidates);
    const decision = decide(wearer, own, reach, lately.get(wearer.wearer_id)?.[0], now, hours);
    decisions.push(decision);
    const { send } = decision;
    if (!send) continue;
    toWrite.push({
      wearer,
      hours,
      checkIn: own.find((one) => one.check_in_id === send.checkInId)!,
      contact: reach.find((one) => one.channel === send.channel)!,
    });
  }
  await carryOut(trx, shopId, decisions);
  const waits = new Set(held.filter((one) => one.shop_id === shopId).map((one) => one.channel));
  return writeLetters(shell, trx, shop, toWrite, waits, now);
}

function decide(
  wearer: DueWearer,
  due: readonly DueCheckIn[],
  usable: readonly UsableContact[],
  lately: WearerLately | undefined,
  now: Date,
  hours: WearersHours,
): DueDecision {
  const unasked = lately?.unasked_at ?? [];
  return decideDue({
    nowMs: now.getTime(),
    due: due.map((one) => ({ checkInId: one.check_in_id, kind: one.kind, dueMs: one.due_at.getTime() })),
    unaskedMs: unasked.map((at) => at.getTime()),
    lastInboundMs: lately?.last_inbound_at?.getTime() ?? null,
    civilNow: hours.civilNow,
    nextCivilMs: hours.nextCivilMs,
    nextDayCivilMs: hours.nextDayCivilMs,
    unaskedToday: unasked.some((at) => hours.isToday(at)),
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

/** Puts letters on record, and what may leave at once as handed over, with its links. */
async function writeLetters(
  shell: Shell,
  trx: Trx,
  shop: Shop,
  toWrite: readonly ToWrite[],
  waits: ReadonlySet<string>,
  now: Date,
): Promise<Written> {
  const shopId = shop.shop_id;
  const links = shell.links?.(shopId);
  const words = sayToMany(shop);
  const letters = toWrite.map((one): CheckInToWrite => {
    const { channel } = one.contact;
    // A mail has headers of its own, with an address for the answer: they are made where it is delivered.
    const handedOver =
      !waits.has(channel) &&
      (channel === 'text' || !shell.mail?.(shopId)) &&
      shell.carrier(shopId, channel) !== undefined;
    return letterOf(words, one, handedOver, links?.base, now);
  });
  const leaseUntil = new Date(now.getTime() + LEASE_MS);
  const written = await writeCheckIns(trx, shopId, letters, now, leaseUntil);
  const going: ToGive[] = [];
  const kept: NewLink[] = [];
  const later: { checkInId: string; until: Date; why: string }[] = [];
  letters.forEach((letter, at) => {
    const { contact, hours } = toWrite[at]!;
    if (!written.has(letter.messageId)) {
      // Another unasked message took this local day first; the check-in keeps its place and goes on the next one.
      later.push({ checkInId: letter.checkInId, until: new Date(hours.nextDayCivilMs), why: ONE_A_DAY });
      return;
    }
    if (!letter.handedOver) return;
    const made = links && newLinks(links.key, letter.messageId, placesOf(letter), now);
    kept.push(...(made?.links ?? []));
    going.push({
      letter: {
        shop_id: shopId,
        attempt_id: letter.attemptId,
        message_id: letter.messageId,
        number: 1,
        channel: letter.channel,
        address: contact.address,
        subject: letter.subject,
        ...spoken({ body: letter.body, html: letter.html }, made?.tokens ?? new Map()),
      },
      carrier: shell.carrier(shopId, letter.channel)!,
      headers: undefined,
    });
  });
  await keepLinks(trx, shopId, kept);
  await postponeCheckIns(trx, shopId, later);
  return { written: written.size, going };
}

function letterOf(
  words: ReturnType<typeof sayToMany>,
  { wearer, hours, checkIn, contact }: ToWrite,
  handedOver: boolean,
  linksAt: string | undefined,
  now: Date,
): CheckInToWrite {
  const letter = checkInLetter({
    kind: checkIn.kind,
    day: checkIn.day,
    way: checkIn.way,
    firstMultifocal: checkIn.first_multifocal !== false,
    lightReactive: checkIn.light_reactive,
    replaces: checkIn.replaces,
  });
  const said = words(wearer, contact.channel, letter, { first: !contact.written_to, linksAt });
  return {
    messageId: newId(now),
    attemptId: newId(now),
    handedOver,
    checkInId: checkIn.check_in_id,
    wearerId: wearer.wearer_id,
    pairId: checkIn.pair_id,
    channel: contact.channel,
    contactId: contact.contact_id,
    subject: said.subject,
    body: said.body,
    html: said.html,
    template: said.template,
    asked: said.asked ?? null,
    localDay: hours.localDay,
  };
}

function filed<Key extends string, Row extends { readonly [key in Key]: string }>(
  rows: readonly Row[],
  by: Key,
): Map<string, Row[]> {
  const sorted = new Map<string, Row[]>();
  for (const row of rows) {
    const there = sorted.get(row[by]);
    if (there) there.push(row);
    else sorted.set(row[by], [row]);
  }
  return sorted;
}

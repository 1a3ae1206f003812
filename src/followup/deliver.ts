import { RETRIES } from '../channels/carrierErrors.ts';
import { isCivil, nextCivil, OUTER_HOURS } from '../channels/civilHours.ts';
import { type Hold, holds, liftHold, takeTry } from '../store/holds.ts';
import {
  type AttemptToSend,
  attemptsToSend,
  claimAttempts,
  leaveUnsure,
  markHandedOver,
  planAttempt,
  putOff,
  settleAttempt,
  unsettledAttempts,
} from '../store/messages.ts';
import { ASK_AGAIN_MS, AT_ONCE, giveToCarriers, nextAtOnce, type ToGive } from './giveToCarriers.ts';
import { linksIn, spoken } from './letterLinks.ts';
import { mailHeaders } from './mailHeaders.ts';
import { TRY_HELD_MS } from './refused.ts';
import type { Shell } from './shell.ts';
import { WRONG_NUMBER } from './troubles.ts';

/** An answer to someone who wrote in the last 15 minutes may go until 21:00 of their own day. */
const JUST_WROTE_MS = 15 * 60_000;
const EVENING_WINDOW = OUTER_HOURS;
/** How long a carrier is asked about an attempt before it is left as "may not have arrived". */
const ASK_CARRIER_MS = 10 * 60_000;
/** What the carrier never had is sent again on the same day, and not when its time is past. */
const REPEAT_WITHIN_MS = 12 * 60 * 60_000;

/**
 * Hands every due message to its carrier, or `most` of them and at most one batch more; returns how many were taken up. Safe to
 * run in any number of processes.
 */
export async function deliver(shell: Shell, most = Number.POSITIVE_INFINITY): Promise<number> {
  let taken = 0;
  let atOnce = AT_ONCE;
  while (taken < most) {
    const claimed = await claimAttempts(shell.db, shell.clock.now(), atOnce);
    if (claimed.length === 0) return taken;
    taken += claimed.length;
    const began = performance.now();
    await sendTogether(shell, await attemptsToSend(shell.db, claimed));
    atOnce = nextAtOnce(atOnce, performance.now() - began);
  }
  return taken;
}

async function sendTogether(shell: Shell, attempts: readonly AttemptToSend[]): Promise<void> {
  const { db } = shell;
  const now = shell.clock.now();
  const held = await holds(db);
  const ready = await Promise.all(
    attempts.map((attempt) => makeReady(shell, attempt, holdOf(held, attempt), now)),
  );
  const going = ready.filter((one) => one !== undefined);
  // On record before the carrier is called: from here on a crash leaves an attempt unsure, not lost and not doubled.
  const marked = await markHandedOver(
    db,
    going.map((one) => one.letter),
    now,
  );
  const taken = await giveToCarriers(
    shell,
    going.filter((one) => marked.has(one.letter.attempt_id)),
    now,
  );
  for (const { shop_id, channel } of held)
    if (taken.some((letter) => letter.shop_id === shop_id && letter.channel === channel))
      await liftHold(db, shop_id, channel);
}

const holdOf = (held: readonly Hold[], attempt: AttemptToSend): Hold | undefined =>
  held.find((one) => one.shop_id === attempt.shop_id && one.channel === attempt.channel);

/** Undefined when it does not go now: settled as withheld, or put off. */
async function makeReady(
  shell: Shell,
  attempt: AttemptToSend,
  hold: Hold | undefined,
  now: Date,
): Promise<ToGive | undefined> {
  const { db } = shell;
  const withhold = async (why: string) => {
    await settleAttempt(db, attempt.shop_id, attempt.attempt_id, { state: 'withheld', why }, now);
    return undefined;
  };
  const later = async (until: Date) => {
    await putOff(db, attempt.shop_id, attempt.attempt_id, until);
    return undefined;
  };
  const withheld = whyWithheld(attempt);
  if (withheld !== null) return withhold(withheld);
  if (!attempt.any_hour && !mayGoNow(attempt, now)) return later(nextCivil(now, attempt.zone_candidates));
  const carrier = shell.carrier(attempt.shop_id, attempt.channel);
  if (!carrier) return withhold(`no ${attempt.channel} carrier is switched on`);
  if (hold && !(await mayTry(db, hold, attempt, now)))
    return later(hold.try_at > now ? hold.try_at : nextTry(now));
  const headers = await mailHeaders(shell, attempt, now);
  const letter = spoken(attempt, await linksIn(shell, attempt.shop_id, attempt.message_id, attempt, now));
  return { letter, carrier, headers };
}

/**
 * While a channel waits for our set-up to be put right, one message an hour tries it, and the first that is taken ends the
 * wait. What must arrive is always tried.
 */
async function mayTry(db: Shell['db'], hold: Hold, attempt: AttemptToSend, now: Date): Promise<boolean> {
  if (attempt.must_arrive) return true;
  return hold.try_at <= now && (await takeTry(db, hold, nextTry(now)));
}

const nextTry = (now: Date): Date => new Date(now.getTime() + TRY_HELD_MS);

/** Read again at the moment of sending: a stop that came a second ago is obeyed. */
export function whyWithheld(
  attempt: Pick<AttemptToSend, 'unusable_why' | 'consent' | 'any_hour'>,
): string | null {
  // Who says that the number is wrong is told once that nothing more will come.
  if (attempt.unusable_why === WRONG_NUMBER && attempt.any_hour) return null;
  if (attempt.unusable_why !== null) return attempt.unusable_why;
  if (attempt.consent === 'given' || attempt.any_hour) return null;
  return attempt.consent === 'withdrawn' ? 'the wearer said stop' : 'no consent on record';
}

function mayGoNow(attempt: AttemptToSend, now: Date): boolean {
  if (isCivil(now, attempt.zone_candidates)) return true;
  const justWrote =
    attempt.in_answer_to !== null &&
    attempt.last_inbound_at !== null &&
    now.getTime() - attempt.last_inbound_at.getTime() <= JUST_WROTE_MS;
  return justWrote && isCivil(now, attempt.zone_candidates, EVENING_WINDOW);
}

/**
 * Settles attempts whose answer was never recorded. The carrier is asked; if it has the message, it is accepted; if after ten
 * minutes, longer than its lists lag, it says that it has it not, it goes again; if it cannot say, check-ins, questions and
 * advice are not repeated, cautions and alarms are.
 */
export async function settleUnsure(shell: Shell): Promise<number> {
  const now = shell.clock.now();
  const open = await unsettledAttempts(shell.db, now, 200);
  for (const attempt of open) {
    const found =
      (await shell.carrier(attempt.shop_id, attempt.channel)?.find(attempt.attempt_id)) ?? 'unknown';
    if (found === 'accepted') {
      await settleAttempt(shell.db, attempt.shop_id, attempt.attempt_id, { state: 'accepted' }, now);
      continue;
    }
    const age = now.getTime() - (attempt.handed_over_at ?? now).getTime();
    if (age < ASK_CARRIER_MS) {
      await leaveUnsure(
        shell.db,
        attempt.shop_id,
        attempt.attempt_id,
        'not known whether the carrier has it',
        new Date(now.getTime() + ASK_AGAIN_MS),
      );
      continue;
    }
    if (found === 'not there' && age < REPEAT_WITHIN_MS && attempt.number < RETRIES) {
      await repeat(shell, attempt, now);
      continue;
    }
    await leaveUnsure(shell.db, attempt.shop_id, attempt.attempt_id, 'may not have arrived', null);
    if (attempt.must_arrive) {
      await planAttempt(shell.db, attempt.shop_id, attempt.message_id, attempt.number + 1, now, now);
    }
  }
  return open.length;
}

/** In one step: a crash in between must not leave it neither here nor there. */
async function repeat(
  shell: Shell,
  attempt: Awaited<ReturnType<typeof unsettledAttempts>>[number],
  now: Date,
): Promise<void> {
  const { shop_id: shopId, attempt_id: attemptId, message_id: messageId, number } = attempt;
  await shell.db.transaction().execute(async (trx) => {
    const never = { state: 'failed', why: 'the carrier never had it' } as const;
    await settleAttempt(trx, shopId, attemptId, never, now);
    await planAttempt(trx, shopId, messageId, number + 1, now, now);
  });
}

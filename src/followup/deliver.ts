import { RETRIES } from '../channels/carrierErrors.ts';
import type { Channel, SendResult } from '../channels/channel.ts';
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
import { linksIn, spoken } from './letterLinks.ts';
import { mailHeaders } from './mailHeaders.ts';
import { actOnRefusal, TRY_HELD_MS } from './refused.ts';
import type { Shell } from './shell.ts';
import { WRONG_NUMBER } from './troubles.ts';

/** An answer to someone who wrote in the last 15 minutes may go until 21:00 of their own day. */
const JUST_WROTE_MS = 15 * 60_000;
const EVENING_WINDOW = OUTER_HOURS;
/** So many are with the carrier at once; also the most that a crash can leave unsure. */
const AT_ONCE = 16;
/** How long a carrier is asked about an attempt before it is left as "may not have arrived". */
const ASK_CARRIER_MS = 10 * 60_000;
const ASK_AGAIN_MS = 60_000;
/** What the carrier never had is sent again on the same day, and not when its time is past. */
const REPEAT_WITHIN_MS = 12 * 60 * 60_000;

/** Hands every due message to its carrier; returns how many were taken up. Safe to run in any number of processes. */
export async function deliver(shell: Shell): Promise<number> {
  let taken = 0;
  for (;;) {
    const claimed = await claimAttempts(shell.db, shell.clock.now(), AT_ONCE);
    if (claimed.length === 0) return taken;
    taken += claimed.length;
    const attempts = await attemptsToSend(shell.db, claimed);
    const held = await holds(shell.db);
    const holdOf = (attempt: AttemptToSend) =>
      held.find((one) => one.shop_id === attempt.shop_id && one.channel === attempt.channel);
    await Promise.all(attempts.map((attempt) => sendOne(shell, attempt, holdOf(attempt))));
  }
}

async function sendOne(shell: Shell, attempt: AttemptToSend, hold: Hold | undefined): Promise<void> {
  const now = shell.clock.now();
  const { db } = shell;
  const withheld = whyWithheld(attempt);
  if (withheld !== null) {
    await settleAttempt(db, attempt.shop_id, attempt.attempt_id, { state: 'withheld', why: withheld }, now);
    return;
  }
  if (!attempt.any_hour && !mayGoNow(attempt, now)) {
    await putOff(db, attempt.shop_id, attempt.attempt_id, nextCivil(now, attempt.zone_candidates));
    return;
  }
  const carrier = shell.carrier(attempt.shop_id, attempt.channel);
  if (!carrier) {
    await settleAttempt(
      db,
      attempt.shop_id,
      attempt.attempt_id,
      { state: 'withheld', why: `no ${attempt.channel} carrier is switched on` },
      now,
    );
    return;
  }
  if (hold && !(await mayTry(db, hold, attempt, now))) {
    await putOff(db, attempt.shop_id, attempt.attempt_id, hold.try_at > now ? hold.try_at : nextTry(now));
    return;
  }
  const headers = await mailHeaders(shell, attempt, now);
  const letter = spoken(attempt, await linksIn(shell, attempt.shop_id, attempt.message_id, attempt, now));
  if (!(await markHandedOver(db, attempt, now))) return;
  const result = await callCarrier(carrier, letter, headers);
  if (result.state === 'unsure') {
    await leaveUnsure(
      db,
      attempt.shop_id,
      attempt.attempt_id,
      result.why,
      new Date(now.getTime() + ASK_AGAIN_MS),
    );
    return;
  }
  const settledAt = shell.clock.now();
  if (result.state === 'refused') {
    await actOnRefusal(shell, attempt, result, settledAt);
    return;
  }
  const accepted = { state: 'accepted', farId: result.farId } as const;
  await settleAttempt(db, attempt.shop_id, attempt.attempt_id, accepted, settledAt);
  if (hold) await liftHold(db, attempt.shop_id, attempt.channel);
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

async function callCarrier(
  carrier: Channel,
  attempt: AttemptToSend,
  headers: Readonly<Record<string, string>> | undefined,
): Promise<SendResult> {
  try {
    return await carrier.send({
      attemptId: attempt.attempt_id,
      to: attempt.address,
      text: attempt.body,
      ...(attempt.subject === null ? {} : { subject: attempt.subject }),
      ...(attempt.html === null ? {} : { html: attempt.html }),
      ...(headers === undefined ? {} : { headers }),
    });
  } catch (error) {
    return { state: 'unsure', why: error instanceof Error ? error.name : 'the carrier did not answer' };
  }
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

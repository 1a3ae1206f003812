import { actOnError, carrierError } from '../channels/carrierErrors.ts';
import { changeByStatus, type StatusEvent } from '../channels/webhook.ts';
import { callFailed } from '../store/alarms.ts';
import { attemptToSettle, settleAttempt } from '../store/messages.ts';
import { actOnRefusal } from './refused.ts';
import type { Shell } from './shell.ts';

/** The carrier tells of no reason: not delivered, which may be tried again. */
const NO_REASON = 30008;

/**
 * Takes one state that the carrier reports or is asked for. Only steps forward count; a text that failed after it was taken is
 * acted on like a refusal, by its error code. An alarm that failed goes to the next person sooner.
 */
export async function takeTextStatus(shell: Shell, shopId: string, event: StatusEvent): Promise<void> {
  const now = shell.clock.now();
  const attempt = await attemptToSettle(shell.db, shopId, event);
  const have = attempt ? (HAVE[attempt.state] ?? null) : 'accepted';
  const change = changeByStatus(have, event);
  if (!change) return;
  const error = carrierError(event.errorCode ?? NO_REASON);
  if (!attempt) {
    if (change.attempt === 'failed' && event.attemptId !== null) {
      await callFailed(shell.db, shopId, event.attemptId, error.meaning, now);
    }
    return;
  }
  if (change.attempt === 'failed') {
    const refusal = {
      code: String(event.errorCode ?? NO_REASON),
      why: error.meaning,
      act: actOnError(error),
    };
    await actOnRefusal(shell, attempt, refusal, now, 'failed');
    return;
  }
  if (change.attempt === attempt.state) return;
  const result = { state: change.attempt, farId: event.farId };
  await settleAttempt(shell.db, shopId, attempt.attempt_id, result, now);
}

/** States of ours as the furthest state of the carrier that they stand for; others are not known to be with it. */
const HAVE: Readonly<Record<string, string>> = {
  accepted: 'accepted',
  delivered: 'delivered',
  failed: 'failed',
  refused: 'failed',
};

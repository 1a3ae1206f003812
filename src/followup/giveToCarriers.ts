import type { Channel, SendResult } from '../channels/channel.ts';
import { type AttemptToSend, leaveUnsure, settleAccepted } from '../store/messages.ts';
import { actOnRefusal } from './refused.ts';
import type { Shell } from './shell.ts';

/** So many are with a carrier at once, and of a quick one more; also the most that a crash can leave unsure. */
export const AT_ONCE = 16;
export const MOST_AT_ONCE = 512;
/** A lot that took less was taken at once. Our own choice, no source. */
const SOON_MS = 400;
/** When a carrier is asked first, and again, about an attempt of which it has not said that it took it. */
export const ASK_AGAIN_MS = 60_000;

/** How many to give next: a carrier that takes them at once is given twice as many, one that takes its time half as many. */
export const nextAtOnce = (atOnce: number, tookMs: number, most: number = MOST_AT_ONCE): number =>
  Math.min(tookMs < SOON_MS ? atOnce * 2 : Math.max(AT_ONCE, atOnce >> 1), most);

/** A letter as it leaves, with its links in place. */
export type LetterToGive = Pick<
  AttemptToSend,
  'shop_id' | 'attempt_id' | 'message_id' | 'number' | 'channel' | 'address' | 'subject' | 'body' | 'html'
>;

export type ToGive = {
  readonly letter: LetterToGive;
  readonly carrier: Channel;
  readonly headers: Readonly<Record<string, string>> | undefined;
};

/**
 * Gives letters to their carriers and records what each said. They are on record as handed over before this is called, so that
 * a crash leaves them unsure, not lost and not doubled. Returns those that were taken.
 */
export async function giveToCarriers(
  shell: Shell,
  going: readonly ToGive[],
  now: Date,
): Promise<readonly LetterToGive[]> {
  const taken: { letter: LetterToGive; farId: string }[] = [];
  await Promise.all(
    going.map(async ({ letter, carrier, headers }) => {
      const result = await callCarrier(carrier, letter, headers);
      if (result.state === 'accepted') taken.push({ letter, farId: result.farId });
      else await notTaken(shell, letter, result, now);
    }),
  );
  await settleAccepted(
    shell.db,
    taken.map(({ letter, farId }) => ({ shop_id: letter.shop_id, attempt_id: letter.attempt_id, farId })),
    shell.clock.now(),
  );
  return taken.map((one) => one.letter);
}

async function callCarrier(
  carrier: Channel,
  letter: LetterToGive,
  headers: Readonly<Record<string, string>> | undefined,
): Promise<SendResult> {
  try {
    return await carrier.send({
      attemptId: letter.attempt_id,
      to: letter.address,
      text: letter.body,
      ...(letter.subject === null ? {} : { subject: letter.subject }),
      ...(letter.html === null ? {} : { html: letter.html }),
      ...(headers === undefined ? {} : { headers }),
    });
  } catch (error) {
    return { state: 'unsure', why: error instanceof Error ? error.name : 'the carrier did not answer' };
  }
}

async function notTaken(
  shell: Shell,
  letter: LetterToGive,
  result: Exclude<SendResult, { state: 'accepted' }>,
  now: Date,
): Promise<void> {
  if (result.state === 'refused') return actOnRefusal(shell, letter, result, shell.clock.now());
  const askAgainAt = new Date(now.getTime() + ASK_AGAIN_MS);
  await leaveUnsure(shell.db, letter.shop_id, letter.attempt_id, result.why, askAgainAt);
}

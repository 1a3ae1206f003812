import { RETRIES } from '../channels/carrierErrors.ts';
import type { SendResult } from '../channels/channel.ts';
import { addCaseEvent } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { holdChannel } from '../store/holds.ts';
import { type AttemptToSend, planAttempt, settleAttempt } from '../store/messages.ts';
import { changeConsent } from '../store/wearers.ts';
import { sendOtherWay } from './otherWay.ts';
import type { Shell } from './shell.ts';

export type Refusal = Pick<Extract<SendResult, { state: 'refused' }>, 'code' | 'why' | 'act'>;

export type RefusedAttempt = Pick<
  AttemptToSend,
  'shop_id' | 'attempt_id' | 'message_id' | 'number' | 'channel' | 'address'
>;

/** Waits before the second and the third attempt. Common practice, no source. */
const WAITS_MS = [2 * 60_000, 15 * 60_000] as const;
/** So often one message is tried while a channel waits for our set-up to be put right. */
export const TRY_HELD_MS = 60 * 60_000;

/**
 * What follows when a carrier says no: the refusal is recorded, and what it means is done in the same transaction. A message
 * that cannot go here goes once by the other channel, if the wearer has agreed to it; else a person rings.
 */
export async function actOnRefusal(
  shell: Shell,
  attempt: RefusedAttempt,
  refusal: Refusal,
  now: Date,
  state: 'refused' | 'failed' = 'refused',
): Promise<void> {
  const shopId = attempt.shop_id;
  await shell.db.transaction().execute(async (trx) => {
    const { code, why } = refusal;
    await settleAttempt(trx, shopId, attempt.attempt_id, { state, code, why }, now);
    const message = await trx
      .selectFrom('message')
      .selectAll()
      .where('shop_id', '=', shopId)
      .where('message_id', '=', attempt.message_id)
      .executeTakeFirstOrThrow();
    const again = (at: Date) => planAttempt(trx, shopId, attempt.message_id, attempt.number + 1, at, now);

    if (refusal.act === 'hold all') {
      const tryAt = new Date(now.getTime() + TRY_HELD_MS);
      await holdChannel(trx, {
        shop_id: shopId,
        channel: message.channel,
        code,
        why,
        since: now,
        try_at: tryAt,
      });
      await again(tryAt);
      if (message.must_arrive) await sendOtherWay(trx, message, now);
      return;
    }
    if (refusal.act === 'later' && attempt.number < RETRIES) {
      await again(new Date(now.getTime() + WAITS_MS[Math.min(attempt.number, WAITS_MS.length) - 1]!));
      if (message.must_arrive) await sendOtherWay(trx, message, now);
      return;
    }
    if (refusal.act === 'stop') await recordStop(trx, attempt, why, now);
    if (refusal.act === 'bad address') await markUnusable(trx, shopId, message.contact_id, why);
    const otherWay = refusal.act === 'tell staff' ? undefined : await sendOtherWay(trx, message, now);
    if (otherWay === undefined && message.check_in_id !== null) {
      await toRing(trx, shopId, message.check_in_id, why);
    }
    if (message.case_id !== null) {
      const detail = { channel: message.channel, why, otherWay: otherWay ?? null };
      await addCaseEvent(trx, shopId, message.case_id, 'not delivered', detail, 'the carrier', now);
    }
  });
}

/** The carrier keeps a stop for the number, so it holds for everyone who is written to there. */
async function recordStop(trx: Trx, attempt: RefusedAttempt, why: string, now: Date): Promise<void> {
  const rows = await trx
    .selectFrom('wearer_contact as wc')
    .innerJoin('contact_point as c', (join) =>
      join.onRef('c.shop_id', '=', 'wc.shop_id').onRef('c.contact_id', '=', 'wc.contact_id'),
    )
    .select('wc.wearer_id')
    .where('wc.shop_id', '=', attempt.shop_id)
    .where('c.channel', '=', attempt.channel)
    .where('c.address', '=', attempt.address)
    .execute();
  for (const { wearer_id } of rows) {
    const change = {
      wearerId: wearer_id,
      channels: [attempt.channel],
      act: 'withdrawn',
      basis: `the carrier refuses: ${why}`,
      words: null,
      by: 'the carrier',
    } as const;
    await changeConsent(trx, attempt.shop_id, change, now);
  }
}

async function markUnusable(trx: Trx, shopId: string, contactId: string, why: string): Promise<void> {
  await trx
    .updateTable('contact_point')
    .set({ unusable_why: why })
    .where('shop_id', '=', shopId)
    .where('contact_id', '=', contactId)
    .execute();
}

async function toRing(trx: Trx, shopId: string, checkInId: string, why: string): Promise<void> {
  await trx
    .updateTable('check_in')
    .set({ state: 'to ring', why })
    .where('shop_id', '=', shopId)
    .where('check_in_id', '=', checkInId)
    .execute();
}

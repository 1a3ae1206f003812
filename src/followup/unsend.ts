import { bad, type Checked, good } from '../problems.ts';
import { addCaseEvent, type CaseFile, changeCase } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { withholdPlanned } from '../store/messages.ts';

/** What staff send leaves so much later; until then it can be taken back. */
export const UNSEND_MS = 10_000;

/** When something leaves that a person sends now. */
export const leavesAt = (now: Date): Date => new Date(now.getTime() + UNSEND_MS);

/**
 * Takes back what a person sent and what has not left yet: it is withheld, and stays in the talk as taken back. A question that is
 * taken back counts as not asked. Of this and a process that is about to send, exactly one gets the message.
 */
export async function unsend(
  trx: Trx,
  file: CaseFile,
  messageId: string,
  by: string,
  now: Date,
): Promise<Checked<null>> {
  const shopId = file.shop_id;
  const sent = await trx
    .selectFrom('case_event')
    .select(['kind', 'detail'])
    .where('shop_id', '=', shopId)
    .where('case_id', '=', file.case_id)
    .execute();
  const event = sent.find(({ detail }) => (detail as { message?: unknown }).message === messageId);
  if (!event || !(await withholdPlanned(trx, shopId, messageId, `${TAKEN_BACK} by ${by}`, now)))
    return bad({
      code: 'has-left',
      what: event ? 'It has left already.' : 'There is no such message on this case.',
      where: 'message',
      mend: event ? 'Send a correction under the message.' : 'Load the case again.',
    });
  const question = event.kind === 'asked';
  const before = (event.detail as { stateWas?: CaseFile['state'] }).stateWas;
  await changeCase(
    trx,
    shopId,
    file.case_id,
    question && before && file.state === 'asked the wearer' ? { state: before } : {},
    now,
  );
  // No answer of theirs is taken for an answer to it.
  if (question)
    await trx
      .updateTable('message')
      .set({ asked: null })
      .where('shop_id', '=', shopId)
      .where('message_id', '=', messageId)
      .execute();
  await addCaseEvent(trx, shopId, file.case_id, 'unsent', { message: messageId, act: event.kind }, by, now);
  return good(null);
}

/** Stands at the beginning of why a message was withheld. */
export const TAKEN_BACK = 'taken back';

import { headersFor, type OwnMail } from '../channels/emailHeaders.ts';
import { LINK_DAYS, newToken } from '../channels/tokens.ts';
import type { AttemptToSend } from '../store/messages.ts';
import type { Shell } from './shell.ts';

type Thread = NonNullable<OwnMail['inAnswerTo']>;

/**
 * Headers of an email about to be sent: its own Message-ID, a reply address and a bounce address of its own, and the thread
 * that it answers. The reply address is on record before the carrier has the message. Nothing for a text, or where the shop
 * has no mailbox.
 */
export async function mailHeaders(
  shell: Shell,
  attempt: AttemptToSend,
  now: Date,
): Promise<Readonly<Record<string, string>> | undefined> {
  const mail = attempt.channel === 'email' ? shell.mail?.(attempt.shop_id) : undefined;
  if (!mail) return undefined;
  const token = newToken('reply address', mail.key);
  await shell.db
    .insertInto('token')
    .values({
      shop_id: attempt.shop_id,
      token,
      purpose: 'reply',
      subject_id: attempt.message_id,
      expires_at: new Date(now.getTime() + LINK_DAYS * 86_400_000),
      used_at: null,
    })
    .execute();
  const headers = headersFor({
    kind: !attempt.automatic ? 'by hand' : attempt.in_answer_to === null ? 'by schedule' : 'answer',
    attemptKey: attempt.attempt_id,
    replyToken: token,
    mailbox: mail.mailbox,
    bounceMailbox: mail.bounceMailbox,
    inAnswerTo: await threadOf(shell, attempt),
  });
  if (!attempt.automatic) return headers;
  // An empty mail with this subject, sent by the mail program's own button, is read as a stop (RFC 2369 section 3.2).
  return { ...headers, 'List-Unsubscribe': `<mailto:${headers['Reply-To']}?subject=STOP>` };
}

/** The mail that is answered, where what came in was one. */
async function threadOf(shell: Shell, attempt: AttemptToSend): Promise<Thread | undefined> {
  if (attempt.in_answer_to === null) return undefined;
  const row = await shell.db
    .selectFrom('inbound')
    .select('raw')
    .where('shop_id', '=', attempt.shop_id)
    .where('inbound_id', '=', attempt.in_answer_to)
    .executeTakeFirst();
  const raw = (typeof row?.raw === 'object' && row.raw !== null ? row.raw : {}) as Record<string, unknown>;
  if (typeof raw.messageId !== 'string') return undefined;
  return {
    messageId: raw.messageId,
    ...(typeof raw.references === 'string' ? { references: raw.references } : {}),
  };
}

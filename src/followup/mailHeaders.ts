import { headersFor, type OwnMail } from '../channels/emailHeaders.ts';
import { LINK_PATH } from '../channels/linkPlaces.ts';
import { LINK_DAYS, newToken, tokenHash } from '../channels/tokens.ts';
import { keepLinks } from '../store/links.ts';
import type { AttemptToSend } from '../store/messages.ts';
import { mintLinks } from './letterLinks.ts';
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
  await keepLinks(shell.db, attempt.shop_id, [
    {
      token_hash: tokenHash(token),
      purpose: 'reply',
      subject_id: attempt.message_id,
      expires_at: new Date(now.getTime() + LINK_DAYS * 86_400_000),
    },
  ]);
  const stopUrl = attempt.automatic ? await stopLink(shell, attempt, now) : undefined;
  const headers = headersFor({
    kind: !attempt.automatic ? 'by hand' : attempt.in_answer_to === null ? 'by schedule' : 'answer',
    attemptKey: attempt.attempt_id,
    replyToken: token,
    mailbox: mail.mailbox,
    bounceMailbox: mail.bounceMailbox,
    inAnswerTo: await threadOf(shell, attempt),
    stopUrl,
  });
  if (!attempt.automatic) return headers;
  // An empty mail with this subject, sent by the mail program's own button, is read as a stop (RFC 2369 section 3.2).
  const byMail = `<mailto:${headers['Reply-To']}?subject=STOP>`;
  const byPage = headers['List-Unsubscribe'];
  return { ...headers, 'List-Unsubscribe': byPage === undefined ? byMail : `${byPage}, ${byMail}` };
}

/** The address for one click (RFC 8058), where the shop has a public one. */
async function stopLink(shell: Shell, attempt: AttemptToSend, now: Date): Promise<string | undefined> {
  const base = shell.links?.(attempt.shop_id)?.base;
  if (base === undefined || !base.startsWith('https://')) return undefined;
  const token = (await mintLinks(shell, attempt.shop_id, attempt.message_id, ['stop'], now)).get('stop');
  return token && `${base}${LINK_PATH}${token}`;
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

import { domainOf, headerOf, messageIds, tokenInMessageId } from '../channels/emailHeaders.ts';
import { type LookBack, type MailboxSettings, visitMailbox } from '../channels/mailbox.ts';
import type { InboundEmail } from '../channels/readMail.ts';
import { tokenHash, tokenInAddress } from '../channels/tokens.ts';
import { inboundIdOf } from '../store/inbound.ts';
import { isWearersAddress, keepReadingOf, mailboxReading, messageOfToken } from '../store/mailboxes.ts';
import { newestAttemptOf } from '../store/messages.ts';
import { type NewPicture, putPictures } from '../store/pictures.ts';
import { actOnRefusal } from './refused.ts';
import type { Shell } from './shell.ts';
import { keepReply, sortKept } from './takeReply.ts';

/** So much of the whole mail, quotes and all, is kept beside what the wearer wrote themselves. */
const LONGEST_WHOLE = 50_000;

/** Looks through the mailboxes of all shops that have one, and takes what concerns us; `lookBack`: the last days once more. */
export async function readMailboxes(shell: Shell, lookBack?: LookBack): Promise<void> {
  const shops = await shell.db.selectFrom('shop').select('shop_id').execute();
  for (const { shop_id: shopId } of shops) {
    const inbox = shell.mail?.(shopId)?.inbox;
    if (inbox) await readOne(shell, shopId, inbox, lookBack);
  }
}

async function readOne(
  shell: Shell,
  shopId: string,
  inbox: MailboxSettings,
  lookBack: LookBack | undefined,
): Promise<void> {
  const before = await mailboxReading(shell.db, shopId, inbox.mailbox);
  const visit = await visitMailbox(
    inbox,
    // Without a place in it the visit begins with what comes from then on.
    before && before.uid_validity !== '' ? { uidValidity: before.uid_validity, uid: before.uid } : undefined,
    shell.clock.now(),
    (address) => isWearersAddress(shell.db, shopId, address),
    (mail, _raw, lookedAtBefore) => takeMail(shell, shopId, inbox, mail, lookedAtBefore),
    lookBack,
  );
  if (!visit.ok) shell.log.warn({ shop: shopId, why: visit.why }, 'the mailbox could not be read');
  await keepReadingOf(shell.db, {
    shop_id: shopId,
    mailbox: inbox.mailbox,
    uid_validity: visit.cursor?.uidValidity ?? '',
    uid: visit.cursor?.uid ?? 0,
    fault: visit.ok ? null : visit.why,
    read_at: shell.clock.now(),
  });
}

/** A bounce settles its message; everything else is a reply, kept whole beside what was written in it. */
async function takeMail(
  shell: Shell,
  shopId: string,
  inbox: MailboxSettings,
  mail: InboundEmail,
  lookedAtBefore: boolean,
): Promise<void> {
  const answers = [
    ...messageIds(headerOf(mail.headers, 'In-Reply-To') ?? ''),
    ...[...messageIds(headerOf(mail.headers, 'References') ?? '')].reverse(),
  ];
  const domain = domainOf(inbox.mailbox);
  const tokens = [
    ...mail.to.map(tokenInAddress),
    ...answers.map((id) => tokenInMessageId(id, domain)),
  ].filter((token) => token !== null);
  const ours = await messageOfToken(shell.db, shopId, tokens.map(tokenHash));
  const replyToken = tokens.find((token) => tokenHash(token) === ours?.hash);
  if (mail.bounces.length > 0) {
    // An old bounce says nothing of what was sent since.
    if (ours && !lookedAtBefore) await takeBounce(shell, shopId, ours.messageId, mail);
    return;
  }
  const references = headerOf(mail.headers, 'References');
  if (lookedAtBefore && (await inboundIdOf(shell.db, shopId, 'email', mail.farId)) !== undefined) return;
  const now = shell.clock.now();
  const kept = await keepReply(shell, {
    shopId,
    channel: 'email',
    farId: mail.farId,
    from: mail.from,
    to: inbox.mailbox,
    body: ownWords(mail),
    receivedAt: now.toISOString(),
    raw: {
      subject: mail.subject,
      wholeText: mail.wholeText.slice(0, LONGEST_WHOLE),
      inReplyTo: answers,
      automatic: mail.automatic.automatic,
      mayAnswer: mail.automatic.mayAnswer,
      media: picturesIn(mail).map((picture) => ({ state: picture.state })),
      ...(mail.messageId === null ? {} : { messageId: mail.messageId }),
      ...(references === undefined ? {} : { references }),
      ...(replyToken === undefined ? {} : { replyToken }),
      // What has lost its question, or has no words, is for a person, beside what is read of it.
      ...(mail.reply.why === null ? {} : { toPerson: mail.reply.why }),
    },
  });
  // Read again after a crash: the words are there, the pictures may not be.
  const inboundId = kept ?? (await inboundIdOf(shell.db, shopId, 'email', mail.farId));
  if (inboundId !== undefined) await putPictures(shell.db, shopId, inboundId, picturesIn(mail), now);
  if (kept !== undefined) await sortKept(shell, shopId, kept);
}

const picturesIn = (mail: InboundEmail): NewPicture[] => [
  ...mail.pictures.map((picture) => ({ ...picture, state: 'kept' }) as const),
  ...Array.from({ length: mail.leftOut }, (): NewPicture => ({ state: 'left out', why: LEFT_OUT })),
];
const LEFT_OUT = 'too large, one too many, or of a kind that is not taken';

/** A mail without words of its own says what its subject says: STOP, for one. A subject that only answers ours says nothing. */
function ownWords(mail: InboundEmail): string {
  if (mail.reply.text !== '' || /^\s*\w{1,3}:/.test(mail.subject)) return mail.reply.text;
  return mail.subject.trim();
}

async function takeBounce(
  shell: Shell,
  shopId: string,
  messageId: string,
  mail: InboundEmail,
): Promise<void> {
  const bounce = mail.bounces.find((one) => one.addressBad || one.tryAgainLater || one.tellStaff);
  const attempt = await newestAttemptOf(shell.db, shopId, messageId);
  if (!bounce || !attempt || attempt.state === 'failed') return;
  const act = bounce.addressBad ? 'bad address' : bounce.tryAgainLater ? 'later' : 'tell staff';
  const why = `it came back: ${bounce.diagnostic ?? bounce.status}`.slice(0, 200);
  const refusal = { code: bounce.status, why, act } as const;
  await actOnRefusal(shell, attempt, refusal, shell.clock.now(), 'failed');
}

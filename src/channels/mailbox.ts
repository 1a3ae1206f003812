import { ImapFlow } from 'imapflow';
import { domainOf, tokenInMessageId } from './emailHeaders.ts';
import { type InboundEmail, type MailGlance, readGlance, readMail } from './readMail.ts';
import { tokenInAddress } from './tokens.ts';

export type MailboxSettings = {
  readonly host: string;
  readonly port: number;
  readonly secure: boolean;
  readonly user: string;
  readonly password: string;
  /** Where replies are read: `care@shop.example`; and where bounces come back to. */
  readonly mailbox: string;
  readonly bounceMailbox: string;
  readonly onlyThisMachine?: boolean | undefined;
  readonly deadlineMs?: number | undefined;
};

/** Looks through what came in so many days as well, though it was looked through before: after a loss of records. */
export type LookBack = { readonly days: number };

/** How far the mailbox has been looked through. UIDs count up as long as the UIDVALIDITY stays (RFC 9051 2.3.1.1). */
export type MailCursor = { readonly uidValidity: string; readonly uid: number };

export type MailboxVisit =
  | { readonly ok: true; readonly cursor: MailCursor; readonly looked: number; readonly kept: number }
  | {
      readonly ok: false;
      readonly why: string;
      readonly signInFailed: boolean;
      readonly cursor: MailCursor | undefined;
    };

const DEADLINE_MS = 30_000;
/** After a renumbering so many days are looked through again; what was kept before is known by its far id. */
const LOOK_BACK_DAYS = 40;
/** Of a larger mail only so much is fetched: its words come first. */
const MAIL_BYTES = 25_000_000;

/**
 * Looks through what is new in the mailbox. Only mail to our reply or bounce addresses, in a thread of ours or from a known
 * wearer is fetched; everything else is neither stored nor marked nor moved. A mail is marked as seen after it was kept,
 * never before; a crash in between reads it again. The first visit begins with what comes from then on.
 */
export async function visitMailbox(
  settings: MailboxSettings,
  cursor: MailCursor | undefined,
  now: Date,
  isWearer: (address: string) => Promise<boolean>,
  keep: (mail: InboundEmail, raw: Buffer, lookedAtBefore: boolean) => Promise<void>,
  lookBack?: LookBack,
): Promise<MailboxVisit> {
  if (settings.onlyThisMachine && !['127.0.0.1', '::1', 'localhost'].includes(settings.host)) {
    throw new Error(`Tests may not read a real mailbox: ${settings.host} is not this machine.`);
  }
  const deadlineMs = settings.deadlineMs ?? DEADLINE_MS;
  const client = new ImapFlow({
    host: settings.host,
    port: settings.port,
    secure: settings.secure,
    auth: { user: settings.user, pass: settings.password },
    logger: false,
    connectionTimeout: deadlineMs,
    greetingTimeout: deadlineMs,
    socketTimeout: deadlineMs,
    disableAutoIdle: true,
  });
  let lineFault: Error | undefined;
  // Without a listener a dropped line would end the whole process.
  client.on('error', (error: Error) => {
    lineFault = error;
  });
  let at = cursor;
  let kept = 0;
  let looked = 0;
  try {
    await client.connect();
    const box = await client.mailboxOpen('INBOX');
    const uidValidity = String(box.uidValidity);
    if (at === undefined) {
      at = { uidValidity, uid: box.uidNext - 1 };
      await client.logout();
      return { ok: true, cursor: at, looked, kept };
    }
    const renumbered = at.uidValidity !== uidValidity;
    if (renumbered) at = { uidValidity, uid: 0 };
    const beforeThat = at.uid;
    const days = renumbered ? LOOK_BACK_DAYS : lookBack?.days;
    const from = lookBack ? 0 : at.uid;
    const found = await client.search(
      {
        uid: `${from + 1}:*`,
        ...(days === undefined ? {} : { since: new Date(now.getTime() - days * 86_400_000) }),
      },
      { uid: true },
    );
    // `n:*` always names the last mail, even when its number is below n.
    const uids = (found || []).filter((uid) => uid > from).sort((one, other) => one - other);
    for (const uid of uids) {
      looked += 1;
      const glance = await glanceAt(client, uid);
      if (glance && (await concernsUs(glance, settings, isWearer))) {
        const raw = await fetchWhole(client, uid);
        if (raw) {
          await keep(await readMail(raw), raw, uid <= beforeThat);
          kept += 1;
          await client.messageFlagsAdd(String(uid), ['\\Seen'], { uid: true });
        }
      }
      at = { uidValidity, uid: Math.max(uid, beforeThat) };
    }
    await client.logout();
    return { ok: true, cursor: at, looked, kept };
  } catch (thrown) {
    client.close();
    const error = (lineFault ?? thrown) as Error & { authenticationFailed?: boolean };
    const signInFailed = (thrown as { authenticationFailed?: boolean }).authenticationFailed === true;
    const why = signInFailed ? 'the mail server does not accept our sign-in' : error.message;
    return { ok: false, why, signInFailed, cursor: at };
  }
}

/** True for mail to our reply or bounce addresses, in a thread of ours, or from an address that a wearer gave. */
async function concernsUs(
  glance: MailGlance,
  ours: Pick<MailboxSettings, 'mailbox' | 'bounceMailbox'>,
  isWearer: (address: string) => Promise<boolean>,
): Promise<boolean> {
  const plain = (address: string) => address.toLowerCase().replace(/\+[^@]*@/, '@');
  const tagged = glance.to.some(
    (address) =>
      tokenInAddress(address) !== null &&
      [ours.mailbox, ours.bounceMailbox].some((own) => plain(own) === plain(address)),
  );
  if (tagged) return true;
  const domain = domainOf(ours.mailbox);
  if (glance.answers.some((id) => tokenInMessageId(id, domain) !== null)) return true;
  return glance.from !== '' && (await isWearer(glance.from));
}

const GLANCE_HEADERS = ['from', 'to', 'cc', 'delivered-to', 'x-original-to', 'in-reply-to', 'references'];

async function glanceAt(client: ImapFlow, uid: number): Promise<MailGlance | undefined> {
  const fetched = await client.fetchOne(String(uid), { uid: true, headers: GLANCE_HEADERS }, { uid: true });
  const block = fetched ? fetched.headers : undefined;
  return block && readGlance(block);
}

async function fetchWhole(client: ImapFlow, uid: number): Promise<Buffer | undefined> {
  const fetched = await client.fetchOne(
    String(uid),
    { uid: true, source: { maxLength: MAIL_BYTES } },
    { uid: true },
  );
  return fetched ? fetched.source : undefined;
}

import { subAddress } from './tokens.ts';

/** Headers of an email that came in: names in any case, values folded or not, several of one name as a list. */
export type MailHeaders = Readonly<Record<string, string | readonly string[] | undefined>>;

/** The first value of a header, unfolded; undefined where there is none. */
export function headerOf(headers: MailHeaders, name: string): string | undefined {
  const found = Object.entries(headers).find(([key]) => key.toLowerCase() === name.toLowerCase())?.[1];
  const first = typeof found === 'string' ? found : found?.[0];
  return first?.replace(/\r?\n[ \t]+/g, ' ').trim();
}

export type OwnMail = {
  /** `by schedule`: unasked; `answer`: to what a wearer wrote, by machine; `by hand`: a person wrote it. */
  readonly kind: 'by schedule' | 'answer' | 'by hand';
  readonly attemptKey: string;
  readonly replyToken: string;
  /** Where replies are read: `care@shop.example`. */
  readonly mailbox: string;
  /** Where bounces come back to, which is never the reply address: `bounce@shop.example`. */
  readonly bounceMailbox: string;
  readonly stopUrl?: string | undefined;
  readonly inAnswerTo?: Thread | undefined;
};

export type Thread = {
  readonly messageId: string;
  readonly inReplyTo?: string | undefined;
  readonly references?: string | undefined;
};

export type OwnHeaders = {
  readonly messageId: string;
  readonly replyTo: string;
  readonly envelopeFrom: string;
  readonly headers: Readonly<Record<string, string>>;
};

/**
 * The headers of a message of ours. Its Message-ID comes from the attempt, so that a repeat repeats it, and holds the reply
 * token, so that an answer without the token in its address still finds its thread. Check-ins are `auto-generated`,
 * answers by machine `auto-replied` (RFC 3834 section 5; keeps holiday responders quiet); bounces go to an address of
 * their own per message. The stop link is for one click (RFC 2369, RFC 8058 section 3.1).
 */
export function ownHeaders(mail: OwnMail): OwnHeaders {
  const headers: Record<string, string> = {};
  if (mail.kind !== 'by hand') {
    headers['Auto-Submitted'] = mail.kind === 'answer' ? 'auto-replied' : 'auto-generated';
  }
  if (mail.inAnswerTo) Object.assign(headers, threadHeaders(mail.inAnswerTo));
  if (mail.stopUrl) Object.assign(headers, unsubscribeHeaders(mail.stopUrl));
  return {
    messageId: ownMessageId(mail.attemptKey, mail.replyToken, domainOf(mail.mailbox)),
    replyTo: subAddress(mail.mailbox, mail.replyToken),
    envelopeFrom: subAddress(mail.bounceMailbox, mail.replyToken),
    headers,
  };
}

/** The same as the one set of headers that a channel is handed; `Return-Path` stands for the envelope's sender. */
export function headersFor(mail: OwnMail): Readonly<Record<string, string>> {
  const own = ownHeaders(mail);
  return {
    'Message-ID': own.messageId,
    'Reply-To': own.replyTo,
    'Return-Path': own.envelopeFrom,
    ...own.headers,
  };
}

const ownMessageId = (attemptKey: string, replyToken: string, domain: string) =>
  `<ci-${attemptKey}.${replyToken}@${domain}>`;

/** The reply token in a Message-ID of ours, when it is one of this domain. */
export function tokenInMessageId(messageId: string, domain: string): string | null {
  const found = /^<?ci-[^.@\s]+\.([a-z0-9]+)@([^>\s]+)>?$/i.exec(messageId.trim());
  return found && found[2]!.toLowerCase() === domain.toLowerCase() ? found[1]!.toLowerCase() : null;
}

/**
 * In-Reply-To is the parent; References are the parent's with the parent added, or, where it has none, its In-Reply-To if
 * that is a single one. Source: RFC 5322 section 3.6.4.
 */
export function threadHeaders(parent: Thread): { 'In-Reply-To': string; References: string } {
  const before = messageIds(parent.references ?? '');
  const alone = messageIds(parent.inReplyTo ?? '');
  const chain = before.length > 0 ? before : alone.length === 1 ? alone : [];
  return { 'In-Reply-To': parent.messageId, References: [...chain, parent.messageId].join(' ') };
}

export const messageIds = (header: string): readonly string[] => header.match(/<[^<>\s]+>/g) ?? [];

/** Both must be among the signed fields, or the one click is not offered (RFC 8058 section 4). */
export const SIGNED_FIELDS = ['list-unsubscribe', 'list-unsubscribe-post'] as const;

function unsubscribeHeaders(stopUrl: string, mailto?: string): Readonly<Record<string, string>> {
  return {
    'List-Unsubscribe': [`<${stopUrl}>`, ...(mailto ? [`<mailto:${mailto}?subject=STOP>`] : [])].join(', '),
    'List-Unsubscribe-Post': 'List-Unsubscribe=One-Click',
  };
}

export const domainOf = (address: string) => address.slice(address.lastIndexOf('@') + 1).toLowerCase();

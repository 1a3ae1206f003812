import { createHash } from 'node:crypto';
import { type AddressObject, type HeaderLines, simpleParser } from 'mailparser';
import { type AutoJudgement, judgeAutomatic } from './emailAuto.ts';
import { type BouncedRecipient, readDeliveryStatus } from './emailBounce.ts';
import { headerOf, type MailHeaders, messageIds } from './emailHeaders.ts';
import { type ReplyText, replyText } from './emailReplyText.ts';
import { PICTURE_BYTES, type Picture, withoutLocation } from './pictures.ts';

export type InboundEmail = {
  /** The same for the same bytes, however often they are read; a forged Message-ID shadows nobody's mail. */
  readonly farId: string;
  readonly messageId: string | null;
  readonly from: string;
  /** Every address that it was sent to or delivered for. */
  readonly to: readonly string[];
  readonly subject: string;
  readonly headers: MailHeaders;
  /** The whole words, quotes and all. */
  readonly wholeText: string;
  readonly reply: ReplyText;
  readonly automatic: AutoJudgement;
  /** Filled for a delivery report only. */
  readonly bounces: readonly BouncedRecipient[];
  readonly pictures: readonly Picture[];
  /** Attachments that were not kept: too large, too many, or of a kind that is not taken. */
  readonly leftOut: number;
};

const MOST_PICTURES = 5;

/** What is read of every new mail before it is known whether it concerns us: addresses and thread, nothing else. */
export type MailGlance = {
  readonly from: string;
  readonly to: readonly string[];
  readonly answers: readonly string[];
};

/** Reads the header block of a mail. */
export async function readGlance(headerBlock: Buffer): Promise<MailGlance> {
  const mail = await simpleParser(headerBlock);
  const headers = headersOf(mail.headerLines);
  const answered = `${headerOf(headers, 'In-Reply-To') ?? ''} ${headerOf(headers, 'References') ?? ''}`;
  return {
    from: mail.from?.value[0]?.address?.toLowerCase() ?? '',
    to: recipients(mail.to, mail.cc, headers),
    answers: messageIds(answered),
  };
}

/** Reads a raw email: whose, what was written, whether a machine wrote it, what it reports as not delivered. */
export async function readMail(raw: Buffer): Promise<InboundEmail> {
  const mail = await simpleParser(raw, { keepDeliveryStatus: true, skipImageLinks: true });
  const headers = headersOf(mail.headerLines);
  const wholeText = mail.text ?? '';
  const report = mail.attachments.find((one) => one.contentType === 'message/delivery-status');
  const pictures: Picture[] = [];
  let leftOut = 0;
  for (const one of mail.attachments) {
    if (one === report || one.contentType.startsWith('message/') || one.related) continue;
    const picture =
      pictures.length < MOST_PICTURES && one.size <= PICTURE_BYTES ? withoutLocation(one.content) : undefined;
    if (picture) pictures.push(picture);
    else leftOut += 1;
  }
  return {
    farId: `${mail.messageId ?? ''} ${createHash('sha256').update(raw).digest('hex').slice(0, 16)}`.trim(),
    messageId: mail.messageId ?? null,
    from: mail.from?.value[0]?.address?.toLowerCase() ?? '',
    to: recipients(mail.to, mail.cc, headers),
    subject: mail.subject ?? '',
    headers,
    wholeText,
    reply: replyText(wholeText),
    automatic: judgeAutomatic(headers),
    bounces: report ? readDeliveryStatus(report.content.toString('utf8')) : [],
    pictures,
    leftOut,
  };
}

function headersOf(lines: HeaderLines): MailHeaders {
  const headers: Record<string, string[]> = {};
  for (const { key, line } of lines) {
    const value = line.slice(line.indexOf(':') + 1).trim();
    headers[key] = [...(headers[key] ?? []), value];
  }
  return headers;
}

function recipients(
  to: AddressObject | AddressObject[] | undefined,
  cc: AddressObject | AddressObject[] | undefined,
  headers: MailHeaders,
): readonly string[] {
  const named = [to, cc]
    .flat()
    .flatMap((one) => one?.value.flatMap((address) => address.address ?? []) ?? []);
  const delivered = ['Delivered-To', 'X-Original-To', 'Envelope-To'].flatMap(
    (name) => headerOf(headers, name) ?? [],
  );
  return [...new Set([...named, ...delivered].map((address) => address.toLowerCase()))];
}

import { headerOf, type MailHeaders } from './emailHeaders.ts';

export type AutoJudgement = {
  /** `maybe`: only the subject says so. */
  readonly automatic: boolean | 'maybe';
  /** May a machine answer it. */
  readonly mayAnswer: boolean;
  /** May it be read as what a wearer wrote; what is not is kept and shown all the same. */
  readonly isReply: boolean;
  readonly reachesPerson: boolean;
};

/**
 * Whether an email was written by a machine. Never to be answered: whatever `Auto-Submitted` calls other than `no`, a null
 * return path, mailer daemons, owner- and -request addresses, lists and bulk mail, reports (RFC 3834 sections 2 and 5;
 * `Precedence` is discouraged but common). `X-Auto-Response-Suppress` asks for no automatic answer and says nothing of
 * the mail itself. A holiday subject without any header is doubtful: a person sees it, no machine answers it.
 */
export function judgeAutomatic(headers: MailHeaders): AutoJudgement {
  if (saysAutomatic(headers)) {
    return { automatic: true, mayAnswer: false, isReply: false, reachesPerson: false };
  }
  const subject = headerOf(headers, 'Subject') ?? '';
  if (HOLIDAY_SUBJECT.test(subject)) {
    return { automatic: 'maybe', mayAnswer: false, isReply: false, reachesPerson: true };
  }
  const suppress = headerOf(headers, 'X-Auto-Response-Suppress');
  const wantsNoAnswer = suppress !== undefined && !/^none$/i.test(suppress);
  const noReply = /^(?:no-?reply|do-?not-?reply)$/i.test(localPart(headerOf(headers, 'From') ?? ''));
  return { automatic: false, mayAnswer: !wantsNoAnswer && !noReply, isReply: true, reachesPerson: false };
}

function saysAutomatic(headers: MailHeaders): boolean {
  const submitted = withoutComments(headerOf(headers, 'Auto-Submitted') ?? '');
  if (submitted !== '' && submitted.split(';')[0]!.trim().toLowerCase() !== 'no') return true;
  if (/^<\s*>$/.test(headerOf(headers, 'Return-Path') ?? '')) return true;
  if (headerOf(headers, 'List-Id') !== undefined) return true;
  if (/^(?:bulk|list|junk|auto[_-]?reply)$/i.test(headerOf(headers, 'Precedence') ?? '')) return true;
  if (MACHINE_HEADERS.some((name) => headerOf(headers, name) !== undefined)) return true;
  if (
    /^multipart\/report\b|^message\/(?:delivery-status|disposition-notification)\b/i.test(
      headerOf(headers, 'Content-Type') ?? '',
    )
  ) {
    return true;
  }
  return MACHINE_SENDER.test(localPart(headerOf(headers, 'From') ?? ''));
}

/** Set by responders of older mail servers (common practice, no standard). */
const MACHINE_HEADERS = [
  'X-Autoreply',
  'X-Autorespond',
  'X-Autoresponse',
  'X-Auto-Reply',
  'X-Auto-Submitted',
];
const MACHINE_SENDER = /^(?:mailer-daemon|postmaster|owner-.+|.+-request|.+-owner|bounces?(?:[+-].*)?)$/i;
const HOLIDAY_SUBJECT =
  /^(?:re:\s*)?(?:(?:auto(?:matic)?[ -]?(?:reply|response)|auto:)|out of (?:the )?office|ooo\b|(?:i am |i'm |i’m )?(?:away(?= (?:from|until|till|on|this|my)\b|[:,.!]|$)|on (?:annual |sick |parental |maternity )?(?:holiday|vacation|leave))\b|vacation|respuesta autom[áa]tica|fuera de (?:la )?oficina|ausen(?:te|cia)\b|automatische antwort|abwesen\w*|absence du bureau|r[ée]ponse automatique)/i;

const withoutComments = (value: string) => value.replace(/\([^()]*\)/g, ' ').trim();

function localPart(from: string): string {
  const address = /<([^<>]*)>\s*$/.exec(from)?.[1] ?? from.trim();
  return address.slice(0, Math.max(0, address.lastIndexOf('@'))) || address;
}

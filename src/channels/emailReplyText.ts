import EmailReplyParser from 'email-reply-parser';

export type ReplyText = {
  readonly text: string;
  /** Nothing is left but quotes, or the answers stand between the quoted lines and have lost their questions. */
  readonly reachesPerson: boolean;
  readonly why: 'nothing but quotes' | 'answers between quotes' | null;
};

/**
 * What the wearer wrote, without what was quoted and without the signature. The raw mail is kept beside it and can always be
 * opened. The cutting is email-reply-parser's; signature delimiter: RFC 3676 section 4.3.
 */
export function replyText(body: string): ReplyText {
  const fragments = new EmailReplyParser().read(body.replace(/\r\n?/g, '\n')).getFragments();
  const own = fragments.filter(
    (one) => !one.isQuoted() && !one.isSignature() && !one.isHidden() && one.getContent().trim() !== '',
  );
  const text = own
    .map((one) => one.getContent().trim())
    .join('\n')
    .trim();
  const first = fragments.indexOf(own[0]!);
  const last = fragments.indexOf(own.at(-1)!);
  const between = fragments.slice(first, last).some((one) => one.isQuoted());
  const why = text === '' ? 'nothing but quotes' : between ? 'answers between quotes' : null;
  return { text, reachesPerson: why !== null, why };
}

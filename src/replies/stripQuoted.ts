import EmailReplyParser from 'email-reply-parser';

/**
 * What the wearer wrote in an email: the quoted message below it and the signature are taken off. When nothing is
 * left (an answer written inside the quotation), the whole text is kept, so that no word of a wearer is lost.
 */
export function stripQuoted(email: string): string {
  const written = new EmailReplyParser().parseReply(email).trim();
  return written === '' ? email.trim() : written;
}

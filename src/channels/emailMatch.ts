import { headerOf, type MailHeaders, messageIds, tokenInMessageId } from './emailHeaders.ts';
import { tokenInAddress } from './tokens.ts';

export type MailToMatch = {
  readonly to: readonly string[];
  readonly from: string;
  readonly headers: MailHeaders;
};

export type WhoWrote =
  | { readonly by: 'token' | 'references'; readonly token: string }
  | { readonly by: 'from' }
  | {
      readonly by: 'nobody';
      readonly why: 'several wearers share this address' | 'nobody of ours has this address';
    };

/**
 * Whose an email is: by the token in the address that it was sent to; else by a message of ours that it answers; else by
 * its sender, if exactly one wearer has that address; else a person decides. Never by guess, and never dropped.
 * `knows` says whether a token is one that we gave out.
 */
export function matchMail(
  mail: MailToMatch,
  domain: string,
  knows: (token: string) => boolean,
  wearersWithThisAddress: number,
): WhoWrote {
  for (const recipient of mail.to) {
    const token = tokenInAddress(recipient);
    if (token !== null && knows(token)) return { by: 'token', token };
  }
  const answered = [
    ...messageIds(headerOf(mail.headers, 'In-Reply-To') ?? ''),
    ...[...messageIds(headerOf(mail.headers, 'References') ?? '')].reverse(),
  ];
  for (const id of answered) {
    const token = tokenInMessageId(id, domain);
    if (token !== null && knows(token)) return { by: 'references', token };
  }
  if (wearersWithThisAddress === 1) return { by: 'from' };
  const several = wearersWithThisAddress > 1;
  return {
    by: 'nobody',
    why: several ? 'several wearers share this address' : 'nobody of ours has this address',
  };
}

import { readEmail } from '../../intake/emailAddress.ts';
import { readPhone } from '../../intake/phone.ts';
import type { Sought } from '../../store/pages/wearers.ts';

/** What was typed into a search: the beginning of a name or job number, or a whole telephone number or email address. */
export function soughtBy(q: string, country: string): Sought {
  const phone = /\d{4}/.test(q) ? readPhone(q, country) : undefined;
  const email = q.includes('@') ? readEmail(q) : undefined;
  return {
    words: q,
    addresses: [...(phone?.ok ? [phone.value.e164] : []), ...(email?.ok ? [email.value] : [])],
  };
}

/** The words of a search as they came in an address, cut to a length that a person may type. */
export const typedQuery = (q: string | undefined): string =>
  (q ?? '')
    .replace(/\p{Cc}/gu, ' ')
    .trim()
    .slice(0, 80);

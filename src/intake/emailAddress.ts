import { bad, type Checked, good } from '../problems.ts';
import { bareText } from './bareText.ts';

/**
 * Reads one email address: a local part of at most 64 and a whole of at most 254 characters (RFC 5321 section 4.5.3.1,
 * from memory), a domain of at least two labels. Quoted local parts and address literals are refused: no wearer has
 * one. The domain is lower-cased; the local part is kept as written.
 */
export function readEmail(input: string, where = 'email'): Checked<string> {
  const text = bareText(input).replace(/^mailto:/i, '');
  const refuse = (code: string, what: string, mend: string) => bad({ code, what, where, mend });
  if (text === '') return refuse('email-missing', 'No email address is written.', 'Write the address.');
  const shown = text.length > 60 ? `${text.slice(0, 60)}…` : text;
  if (/[;,/ ]/.test(text) && (text.match(/@/g)?.length ?? 0) > 1) {
    return refuse('email-two', `“${shown}” holds more than one address.`, 'Leave one address in the cell.');
  }
  const at = text.lastIndexOf('@');
  const local = text.slice(0, at);
  const domain = text.slice(at + 1).toLowerCase();
  if (at < 1 || text.length > 254 || local.length > 64 || !LOCAL.test(local) || !isHost(domain)) {
    return refuse('email-malformed', `“${shown}” is not an email address.`, 'Write it as name@example.com.');
  }
  return good(`${local}@${domain}`);
}

/**
 * True for domains that reach nobody: example.com, .net and .org with what stands below them, and everything under
 * .example, .test, .invalid and .localhost (RFC 2606 sections 2 and 3; RFC 6761 section 6).
 */
export function reservedDomain(domain: string): boolean {
  const labels = domain.trim().toLowerCase().replace(/\.$/, '').split('.');
  const last = labels.at(-1) ?? '';
  if (RESERVED_TOP.has(last)) return true;
  return labels.at(-2) === 'example' && RESERVED_UNDER.has(last);
}

/** True where an address stands at a reserved domain. */
export function reservedEmail(address: string): boolean {
  return reservedDomain(address.slice(address.lastIndexOf('@') + 1));
}

const RESERVED_TOP = new Set(['example', 'test', 'invalid', 'localhost']);
const RESERVED_UNDER = new Set(['com', 'net', 'org']);
// Letters of any script are allowed (RFC 6531); two dots running or at an end are not (RFC 5322 section 3.4.1).
const LOCAL = /^(?!\.)(?!.*\.\.)[\p{L}\p{N}!#$%&'*+/=?^_`{|}~.-]+(?<!\.)$/u;

function isHost(domain: string): boolean {
  const labels = domain.split('.');
  if (labels.length < 2 || domain.length > 253) return false;
  if (/^\d+$/.test(labels.at(-1) ?? '')) return false;
  return labels.every(
    (label) => label.length <= 63 && /^[\p{L}\p{N}]([\p{L}\p{N}-]*[\p{L}\p{N}])?$/u.test(label),
  );
}

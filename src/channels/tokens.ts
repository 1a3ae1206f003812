import { createHash, createHmac, randomBytes } from 'node:crypto';
import { sameSecret } from './carrierSignature.ts';

/** What a token is good for. One that was made for answering cannot stop, and the other way about. */
export type TokenPurpose = LinkPurpose | 'reply address';

/** Purposes of links: to answer, to read how to use the glasses, to stop, to measure for us, and "I have it" for who is on call. */
export const LINK_PURPOSES = ['answer', 'tips', 'stop', 'measure', 'have'] as const;
export type LinkPurpose = (typeof LINK_PURPOSES)[number];

/** The secret of a shop with its version; an old version is kept until every token made with it has run out. */
export type TokenKey = { readonly version: number; readonly secret: string };

/** Without 0, 1, 8 and 9, so that nothing is misread; without case, because some mail systems change it. RFC 4648 §6. */
const LETTERS = 'abcdefghijklmnopqrstuvwxyz234567';
const RANDOM_LETTERS = 16;
const MARK_LETTERS = 4;

/** Behind `/w/` a token makes a path of 24 characters. */
export const TOKEN_LENGTH = 1 + RANDOM_LETTERS + MARK_LETTERS;

/**
 * A new token: the key's version, 80 random bits, and a mark of 20 bits, HMAC-SHA256 over version, random part and
 * purpose. The random part is what cannot be guessed; the mark turns away altered and misused tokens before the
 * store is asked. Nothing of the wearer is in it; what it belongs to and until when stands in the store.
 */
export function newToken(
  purpose: TokenPurpose,
  key: TokenKey,
  random: (bytes: number) => Uint8Array = randomBytes,
): string {
  const letters = [...random(RANDOM_LETTERS)].map((byte) => LETTERS[byte & 31]!).join('');
  const head = `${LETTERS[key.version & 31]!}${letters}`;
  return head + mark(head, purpose, key);
}

/** True when the token was made by one of these keys for this purpose. Says nothing of whether it has run out. */
export function isToken(token: string, purpose: TokenPurpose, keys: readonly TokenKey[]): boolean {
  const folded = foldToken(token);
  if (folded.length !== TOKEN_LENGTH) return false;
  const head = folded.slice(0, -MARK_LETTERS);
  const key = keys.find((one) => LETTERS[one.version & 31] === head[0]);
  return key !== undefined && sameSecret(folded.slice(-MARK_LETTERS), mark(head, purpose, key));
}

/** What is kept of a token: SHA-256 in hexadecimal. 80 random bits need no salt. */
export const tokenHash = (token: string): string =>
  createHash('sha256').update(foldToken(token), 'utf8').digest('hex');

/** The purpose for which a token was made by one of these keys; undefined when it is none of ours. */
export const linkPurposeOf = (token: string, keys: readonly TokenKey[]): LinkPurpose | undefined =>
  LINK_PURPOSES.find((purpose) => isToken(token, purpose, keys));

/** The spelling under which a token is kept and looked up. */
const foldToken = (token: string): string => token.trim().toLowerCase();

/** An answer link runs out with the window in which its answer is of use. Common practice, no source. */
export const LINK_DAYS = 30;

function mark(head: string, purpose: TokenPurpose, key: TokenKey): string {
  const digest = createHmac('sha256', key.secret).update(`${purpose}\n${head}`).digest();
  return [...digest.subarray(0, MARK_LETTERS)].map((byte) => LETTERS[byte & 31]!).join('');
}

/** A mailbox with a token in its address: `reply+token@domain` (subaddress form of RFC 5233). */
export function subAddress(mailbox: string, token: string): string {
  const at = mailbox.lastIndexOf('@');
  return `${mailbox.slice(0, at)}+${token}${mailbox.slice(at)}`;
}

/** The token of a recipient address, folded; null where there is none. */
export function tokenInAddress(recipient: string): string | null {
  const address = /<([^<>]*)>\s*$/.exec(recipient)?.[1] ?? recipient;
  const found = /^[^@+]+\+([a-z0-9]+)@/i.exec(address.trim());
  return found ? foldToken(found[1]!) : null;
}

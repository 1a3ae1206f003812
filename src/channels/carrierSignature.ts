import { createHash, timingSafeEqual } from 'node:crypto';
import webhooks from 'twilio/lib/webhooks/webhooks.js';

export type SignedRequest = {
  readonly authToken: string;
  /** The public address as the carrier called it, query and all: from settings, never from the Host header. */
  readonly url: string;
  /** The header as it came; undefined when there was none. */
  readonly signature: string | undefined;
};

/**
 * True when a form post is from the carrier: HMAC-SHA1 over the address and every parameter, sorted by name, as decoded
 * and before anything is trimmed or left out. Source: Twilio Docs "Secure webhooks", by the carrier's own library.
 */
export function formIsSigned(
  request: SignedRequest,
  params: Readonly<Record<string, string | string[]>>,
): boolean {
  if (!request.signature) return false;
  return webhooks.validateRequest(request.authToken, request.signature, request.url, { ...params });
}

/** The same for a body of JSON, whose digest stands in the query as `bodySHA256`. Source: Twilio Docs, error 57012. */
export function jsonIsSigned(request: SignedRequest, rawBody: string): boolean {
  if (!request.signature || !request.url.includes('bodySHA256=')) return false;
  return webhooks.validateRequestWithBody(request.authToken, request.signature, request.url, rawBody);
}

/** The signature that the carrier would give a request: for its stand-in, and for the page that tells why one failed. */
export function signatureOf(
  authToken: string,
  url: string,
  params: Readonly<Record<string, string | string[]>>,
): string {
  return webhooks.getExpectedTwilioSignature(authToken, url, { ...params });
}

/** The address of a JSON callback as it is signed: with the digest of the body, unless it has one. */
export function jsonAddress(url: string, rawBody: string): string {
  if (/[?&]bodySHA256=/.test(url)) return url;
  const digest = createHash('sha256').update(rawBody, 'utf8').digest('hex');
  return `${url}${url.includes('?') ? '&' : '?'}bodySHA256=${digest}`;
}

/** Compares two secrets without telling by the time it takes where they differ. */
export function sameSecret(one: string, other: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text, 'utf8').digest();
  return timingSafeEqual(digest(one), digest(other));
}

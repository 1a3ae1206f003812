import type { LinkState } from './answerLink.ts';

export type StopVisit = {
  readonly method: string;
  readonly link: LinkState;
  readonly contentType: string | undefined;
  readonly body: string;
};

export type StopOutcome = {
  readonly status: 200 | 400 | 404 | 405;
  readonly optOut: boolean;
  readonly shows: 'button' | 'done' | 'nothing';
};

/** The field that our own page's button sends. */
export const STOP_FIELD = 'stop';

/**
 * The stop link. A POST acts without cookie, sign-in or redirect, whether mail software sends it (RFC 8058 section 3.2, as
 * form or multipart) or our own button; a GET only shows the button, because mail software fetches links by itself. A
 * stop link does not run out: somebody who has had enough is never told to look for a newer one.
 */
export function openStopLink(visit: StopVisit): StopOutcome {
  if (visit.link === 'altered' || visit.link === 'unknown')
    return { status: 404, optOut: false, shows: 'nothing' };
  const method = visit.method.toUpperCase();
  if (method === 'GET' || method === 'HEAD') return { status: 200, optOut: false, shows: 'button' };
  if (method !== 'POST') return { status: 405, optOut: false, shows: 'nothing' };
  return asksToStop(visit)
    ? { status: 200, optOut: true, shows: 'done' }
    : { status: 400, optOut: false, shows: 'button' };
}

function asksToStop({ contentType, body }: StopVisit): boolean {
  if (/^multipart\/form-data\b/i.test(contentType ?? '')) {
    return /name="?List-Unsubscribe"?[^\n]*\r?\n(?:[^\n]+\r?\n)*\r?\n\s*One-Click\b/i.test(body);
  }
  const fields = [...new URLSearchParams(body.trim())].map(
    ([name, value]) => [name.toLowerCase(), value] as const,
  );
  return fields.some(
    ([name, value]) =>
      (name === 'list-unsubscribe' && /^one-click$/i.test(value.trim())) || name === STOP_FIELD,
  );
}

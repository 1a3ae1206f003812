import { createHmac, randomBytes } from 'node:crypto';
import type { Context } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import { LONGEST_MS } from '../followup/signInSession.ts';
import type { Web } from './web.ts';

const COOKIE = 'afterfit_session';
/** A browser keeps a cookie of such a name to this host alone, and sends it only over an encrypted line. */
const GUARDED_COOKIE = '__Host-afterfit_session';

/** The key that the browser sent, if it has the form of one. */
export function sessionKey(c: Context<Web>): string | undefined {
  const key = getCookie(c, c.get('caller').encrypted ? GUARDED_COOKIE : COOKIE);
  return key !== undefined && /^[\w-]{43}$/.test(key) ? key : undefined;
}

/** Lax: a link in an alarm's email opens the case without signing in anew; nothing is changed by opening a page. */
export function giveSession(c: Context<Web>, key: string): void {
  const { encrypted } = c.get('caller');
  setCookie(c, encrypted ? GUARDED_COOKIE : COOKIE, key, {
    httpOnly: true,
    sameSite: 'Lax',
    path: '/',
    secure: encrypted,
    maxAge: LONGEST_MS / 1000,
  });
}

export function dropSession(c: Context<Web>): void {
  const { encrypted } = c.get('caller');
  deleteCookie(c, encrypted ? GUARDED_COOKIE : COOKIE, { path: '/', secure: encrypted });
}

/** The token of every form of a session: bound to its key, so that it ends with it and no other session's will do. */
export const formTokenOf = (key: string): string =>
  createHmac('sha256', key).update('forms').digest('hex').slice(0, 32);

/**
 * The token as it stands on a page: other letters each time, so that the sizes of packed pages tell nothing of it to somebody who
 * can make the browser ask and watches the line.
 */
export function maskedToken(token: string): string {
  const mask = randomBytes(token.length / 2);
  return mask.toString('hex') + mixed(mask, Buffer.from(token, 'hex'));
}

/** The token behind what a form brought; empty where it has not the form of one. */
export function unmasked(sent: string): string {
  if (!/^[0-9a-f]{64}$/.test(sent)) return '';
  const both = Buffer.from(sent, 'hex');
  return mixed(both.subarray(0, 16), both.subarray(16));
}

const mixed = (one: Buffer, other: Buffer): string =>
  Buffer.from(one.map((byte, at) => byte ^ other[at]!)).toString('hex');

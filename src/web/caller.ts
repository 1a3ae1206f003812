import type { Context } from 'hono';
import type { Caller } from '../followup/signIn.ts';
import type { House, Web } from './web.ts';

const FORWARDED = ['x-forwarded-for', 'forwarded', 'x-real-ip', 'x-forwarded-host', 'via'];

/**
 * Who asks: from where, at this machine itself or not, over an encrypted line or not. What a proxy says of others is believed
 * only of proxies that the settings name; that something came through a proxy at all is believed of everyone, since it only takes
 * rights away.
 */
export function callerOf(c: Context<Web>, house: House): Caller & { readonly encrypted: boolean } {
  const peer = peerOf(c);
  const proxies = house.trustedProxies ?? [];
  const trusted = proxies.includes(peer);
  const forwarded = FORWARDED.some((name) => c.req.header(name) !== undefined);
  const beyond = house.pagesUrl !== undefined && hostOf(c.req.header('host')) === hostname(house.pagesUrl);
  return {
    address: trusted ? (lastStranger(c.req.header('x-forwarded-for'), proxies) ?? peer) : peer,
    about: browserWords(c.req.header('user-agent') ?? ''),
    here: isLoopback(peer) && !forwarded && !beyond,
    encrypted: beyond || (trusted && c.req.header('x-forwarded-proto') === 'https'),
  };
}

/** The address at the other end of the line; asked without a line, as tests do, it is this machine. */
function peerOf(c: Context<Web>): string {
  const bindings = c.env as { incoming?: { socket?: { remoteAddress?: string } } } | undefined;
  const peer =
    bindings?.incoming === undefined ? '127.0.0.1' : (bindings.incoming.socket?.remoteAddress ?? '');
  return peer.replace(/^::ffff:/, '');
}

const isLoopback = (address: string): boolean => address === '::1' || /^127\./.test(address);

/** The name of a host without its port, in small letters. */
export const hostOf = (header: string | undefined): string =>
  (header ?? '').replace(/:\d+$/, '').toLowerCase();

const hostname = (url: string): string => new URL(url).hostname;

/** Every proxy adds at the end whom it heard; the first from the end that is no proxy of ours is who asks. */
function lastStranger(header: string | undefined, proxies: readonly string[]): string | undefined {
  const told = (header ?? '').split(',').map((one) => one.trim());
  const stranger = told.findLast((one) => !proxies.includes(one));
  return stranger !== undefined && /^[0-9a-f.:]{2,45}$/i.test(stranger) ? stranger : undefined;
}

const BROWSERS = ['Edg', 'Firefox', 'Chrome', 'Safari'] as const;
const MACHINES = ['iPhone', 'iPad', 'Android', 'Windows', 'Macintosh', 'Linux'] as const;

/** "Firefox, Windows": enough to know one's own browsers apart. */
function browserWords(agent: string): string {
  const browser = BROWSERS.find((one) => agent.includes(one));
  const machine = MACHINES.find((one) => agent.includes(one));
  return (
    [browser?.replace('Edg', 'Edge'), machine?.replace('Macintosh', 'Mac')].filter(Boolean).join(', ') ||
    'a browser'
  );
}

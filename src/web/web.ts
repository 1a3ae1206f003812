import { randomBytes, timingSafeEqual } from 'node:crypto';
import type { Context, MiddlewareHandler } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import type { Notice } from '../../dashboard/pieces/view.ts';
import type { ShellView, SideLink } from '../../dashboard/shell/view.ts';
import type { FactorSeal } from '../followup/factorSeal.ts';
import { localDay } from '../followup/planSlots.ts';
import { ringCount } from '../followup/ringList.ts';
import { standingTroubles } from '../followup/standing.ts';
import type { Room } from '../house.ts';
import type { Problem } from '../problems.ts';
import { type ShopCounts, shopCounts } from '../store/counts.ts';
import { noticedFrom } from '../store/deadlineNotices.ts';
import type { PersonsSession } from '../store/sessions.ts';
import { findShop, type Shop } from '../store/shops.ts';
import { storable } from '../store/storable.ts';
import type { callerOf } from './caller.ts';
import { isForOwners } from './doors.ts';
import { longTime } from './format.ts';
import { formTokenOf, maskedToken, sessionKey, unmasked } from './sessionCookie.ts';
import type { RoomAtScreen } from './sessions.ts';

export type Web = {
  Variables: {
    room: RoomAtScreen;
    form: FormData;
    csrf: string;
    caller: ReturnType<typeof callerOf>;
    session: PersonsSession | undefined;
    /** The shop of who asks, known by a session, a link or a token; else it is the one that the process opened with. */
    shopOfCaller: Room | undefined;
  };
};

/** What the pages stand on: the open shop, or how far its opening has come. */
export type House = {
  room(): Room | undefined;
  /** Host names under which the pages may be asked for. */
  readonly hosts: ReadonlySet<string>;
  /** Asked of whoever reads /metrics; without it only this machine may. */
  readonly metricsToken?: string | undefined;
  /** True once the process was asked to stop: it takes nothing new. */
  readonly stopping?: () => boolean;
  /** Address under which the pages are opened from beyond this machine, by a proxy with a certificate. */
  readonly pagesUrl?: string | undefined;
  /** Addresses of proxies whose word on who asks is believed. */
  readonly trustedProxies?: readonly string[] | undefined;
  /** What secrets of second factors are closed with; without it they lie as they are. */
  readonly factorSeal?: FactorSeal | undefined;
  /** Asked of commands that work through the running server. */
  readonly key: string;
  readonly filling: { readonly words: string; readonly done: number; readonly of: number } | null;
  /** Answers the one question on an empty folder. */
  choose(choice: Choice): Promise<readonly Problem[]>;
};

export type Choice =
  | { readonly kind: 'invented' }
  | {
      readonly kind: 'own';
      readonly name: string;
      readonly country: string;
      readonly timeZone: string;
      readonly phone: string;
    };

/** The room of the shop that who asks belongs to. */
export const roomOfCaller = (c: Context<Web>, house: House): Room | undefined =>
  c.get('shopOfCaller') ?? house.room();

const CSRF_COOKIE = 'afterfit_form';
const NOTICE_COOKIE = 'afterfit_notice';

/**
 * Every form that posts carries a token, and comes from a page of this address: another site cannot press buttons here. Within a
 * session the token hangs on the session's key, before one on a strict cookie. Parses the form once for the routes behind it.
 */
export function checkForm(_house: House): MiddlewareHandler<Web> {
  return async (c, next) => {
    const key = c.get('session') && sessionKey(c);
    const token = key ? formTokenOf(key) : cookieToken(c);
    c.set('csrf', maskedToken(token));
    if (c.req.method !== 'GET' && c.req.method !== 'HEAD') {
      const form = cameFromElsewhere(c) ? undefined : await c.req.formData().catch(() => undefined);
      const sent = String(form?.get('csrf') ?? '');
      if (!form || !sameToken(unmasked(sent), token)) {
        return c.text(
          'This form is no longer valid. Go back, load the page again, and press once more.',
          403,
        );
      }
      c.set('form', keepable(form));
    }
    return next();
  };
}

/** A form whose words the database can keep; files stay as they are. */
function keepable(form: FormData): FormData {
  const kept = new FormData();
  for (const [name, value] of form) {
    if (typeof value === 'string') kept.append(storable(name), storable(value));
    else kept.append(storable(name), value);
  }
  return kept;
}

function cookieToken(c: Context<Web>): string {
  const given = getCookie(c, CSRF_COOKIE);
  if (given !== undefined && /^[0-9a-f]{32}$/.test(given)) return given;
  const token = randomBytes(16).toString('hex');
  const secure = c.get('caller').encrypted;
  setCookie(c, CSRF_COOKIE, token, { httpOnly: true, sameSite: 'Strict', path: '/', secure });
  return token;
}

/** What browsers say themselves of where a form comes from (Fetch Metadata; Origin). Old ones say nothing: the token decides. */
function cameFromElsewhere(c: Context<Web>): boolean {
  const site = c.req.header('sec-fetch-site');
  if (site !== undefined) return site !== 'same-origin' && site !== 'none';
  const origin = c.req.header('origin');
  // A page that names no referrer posts with the origin "null".
  return (
    origin !== undefined &&
    origin !== 'null' &&
    originHost(origin) !== (c.req.header('host') ?? '').toLowerCase()
  );
}

const originHost = (origin: string): string => {
  try {
    return new URL(origin).host;
  } catch {
    return '';
  }
};

const sameToken = (one: string, other: string): boolean =>
  one.length === other.length && timingSafeEqual(Buffer.from(one), Buffer.from(other));

/** One text field of the posted form, without surrounding space. */
export const field = (c: Context<Web>, name: string): string => {
  const value = c.get('form').get(name);
  return typeof value === 'string' ? value.trim() : '';
};

/** Sends the reader back to a page, with a notice that is shown once there. */
export function back(
  c: Context<Web>,
  to: string,
  notice?: Omit<Notice, 'undo'> | readonly Problem[],
): Response {
  const said: Omit<Notice, 'undo'> | undefined = isProblems(notice)
    ? { kind: 'trouble', text: notice.map((one) => `${one.what} ${one.mend}`).join(' ') }
    : notice;
  if (said) {
    setCookie(c, NOTICE_COOKIE, Buffer.from(JSON.stringify(said)).toString('base64url'), {
      httpOnly: true,
      sameSite: 'Strict',
      path: '/',
      maxAge: 60,
    });
  }
  return c.redirect(to, 303);
}

const isProblems = (value: unknown): value is readonly Problem[] => Array.isArray(value);

function takeNotice(c: Context<Web>): Notice[] {
  const raw = getCookie(c, NOTICE_COOKIE);
  if (raw === undefined) return [];
  setCookie(c, NOTICE_COOKIE, '', { path: '/', maxAge: 0 });
  try {
    const said = JSON.parse(Buffer.from(raw, 'base64url').toString()) as { kind: unknown; text: unknown };
    const kind = said.kind === 'trouble' ? 'trouble' : 'done';
    return [{ kind, text: String(said.text).slice(0, 2000), undo: null }];
  } catch {
    return [];
  }
}

export type Loaded = { readonly shell: ShellView; readonly shop: Shop; readonly now: Date };

/** What stands around a page, with the shop and the moment that the page is made for. */
export async function loadShell(c: Context<Web>, title: string, here: string): Promise<Loaded> {
  const room = c.get('room');
  const { db, clock } = room.shell;
  const now = clock.now();
  const shop = await findShop(db, room.shopId);
  const counts = await shopCounts(db, room.shopId);
  const toRing = await ringCount(db, shop, now);
  const shell: ShellView = {
    title,
    shopName: shop.name,
    invented: shop.kind === 'invented',
    clock: longTime(now, shop.time_zone),
    clockIso: now.toISOString(),
    side: sideOf(room, { ...counts, toRing }),
    here,
    csrf: c.get('csrf'),
    person: personName(room),
    personHref: room.kind === 'invented' ? '/act-as' : '/my-sign-in',
    notices: [...takeNotice(c), ...(await standing(room, shop))],
    dangerCount: counts.danger,
    version: counts.version,
    findable: true,
  };
  return { shell, shop, now };
}

/** Who acts: the person who is signed in. */
export const personName = (room: RoomAtScreen): string => room.actor.name;

async function standing(room: Room, shop: Shop): Promise<Notice[]> {
  const lines = [...(await standingTroubles(room.shell, shop)), ...(await endsSoon(room, shop))];
  return lines.map((text) => ({ kind: 'standing', text, undo: null }));
}

async function endsSoon({ shell, shopId }: Room, shop: Shop): Promise<string[]> {
  const count = await noticedFrom(shell.db, shopId, localDay(shell.clock.now(), shop.time_zone));
  if (count === 0) return [];
  return [
    count === 1
      ? 'A deadline of an open case ends within three days: it stands on the bench.'
      : `${count} deadlines of open cases end within three days: they stand on the bench.`,
  ];
}

export function sideOf(
  room: RoomAtScreen | undefined,
  counts: ShopCounts & { readonly toRing?: number },
): SideLink[] {
  if (!room) return [];
  const links: SideLink[] = [
    { href: '/bench', text: 'Bench', group: 1, ...(counts.cases > 0 ? { waiting: counts.cases } : {}) },
    { href: '/tray', text: 'Tray', group: 1, ...(counts.tray > 0 ? { waiting: counts.tray } : {}) },
    { href: '/ring-list', text: 'Ring list', group: 1, ...(counts.toRing ? { waiting: counts.toRing } : {}) },
    { href: '/wearers', text: 'Wearers', group: 1 },
    { href: '/deliveries', text: 'Deliveries', group: 1 },
    { href: '/to-sign', text: 'To sign', group: 1, ...(counts.toSign > 0 ? { waiting: counts.toSign } : {}) },
    { href: '/lens-designs', text: 'Lens designs', group: 2 },
    { href: '/lens-book', text: 'Lens book', group: 2 },
    { href: '/weights', text: 'Weights', group: 2 },
    { href: '/words', text: 'Words', group: 2 },
    { href: '/letters', text: 'Letters', group: 2 },
    { href: '/shop', text: 'Shop', group: 2 },
    { href: '/people', text: 'People', group: 2 },
    { href: '/log', text: 'Log', group: 2 },
  ];
  if (room.kind === 'invented') links.push({ href: '/rehearsal', text: 'Rehearsal', group: 2 });
  return room.actor.role === 'owner' ? links : links.filter((link) => !isForOwners(link.href));
}

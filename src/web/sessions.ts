import type { Context, MiddlewareHandler } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import { hashOf } from '../followup/secrets.ts';
import { sessionOf } from '../followup/signInSession.ts';
import type { Room } from '../house.ts';
import type { PersonsSession } from '../store/sessions.ts';
import { people } from '../store/shops.ts';
import { isForOwners, standsOpen } from './doors.ts';
import { sessionKey } from './sessionCookie.ts';
import { trouble } from './trouble.tsx';
import type { House, Web } from './web.ts';

/** Who is at the screen, and acts there. */
export type Actor = { readonly personId: string; readonly name: string; readonly role: 'staff' | 'owner' };
/** The open shop, with who is at the screen. */
export type RoomAtScreen = Room & { readonly actor: Actor };

const ACTS_AS_COOKIE = 'afterfit_acts_as';

/**
 * Lets nobody past who is not signed in, and only owners where only owners may go; whoever passes is the one who acts. In the
 * invented shop, where nobody is real and only this machine is let in, the one at the screen is the invented owner or whom they
 * chose to be.
 */
export function onlySignedIn(house: House): MiddlewareHandler<Web> {
  return async (c, next) => {
    const room = house.room();
    const caller = c.get('caller');
    if (!room || room.kind === 'invented') {
      if (!caller.here)
        return trouble(
          c,
          403,
          'Only this machine is let in here.',
          'Open it at the machine that it runs on.',
        );
      if (room) c.set('room', { ...room, actor: await inventedActor(c, room) });
      return !room && c.req.path !== '/welcome' ? c.redirect('/welcome', 303) : next();
    }
    const { session, room: its } = await readSession(c, room);
    if (session) c.set('session', session);
    c.set('shopOfCaller', its);
    if (session?.stage !== 'whole') return standsOpen(c.req.path) ? next() : toSignIn(c, session);
    const actor = { personId: session.person_id, name: session.name, role: session.role };
    c.set('room', { ...its, actor });
    if (actor.role !== 'owner' && isForOwners(c.req.path))
      return trouble(c, 403, 'This page is for owners.', 'Ask an owner of the shop.');
    return next();
  };
}

function toSignIn(c: Context<Web>, session: PersonsSession | undefined) {
  if (c.req.path === '/version') return c.text('signed out', 401);
  const to = session?.stage === 'code' ? '/sign-in/code' : session ? '/sign-in/second-factor' : '/sign-in';
  if (c.req.method === 'GET' || c.req.method === 'HEAD')
    return c.redirect(session ? to : `/sign-in?to=${encodeURIComponent(c.req.path)}`, 303);
  return trouble(
    c,
    401,
    'You are signed out. Nothing was changed.',
    'Sign in in another tab, then go back and press once more.',
  );
}

/** The session of the browser's key, in the shop that it belongs to: mostly the first, so that one is asked at once. */
async function readSession(
  c: Context<Web>,
  room: Room,
): Promise<{ room: Room; session: PersonsSession | undefined }> {
  const key = sessionKey(c);
  if (key === undefined) return { room, session: undefined };
  const sessionIn = ({ shell: { db, clock }, shopId }: Room) =>
    sessionOf(db, shopId, key, clock.now(), c.req.path === '/version');
  const session = await sessionIn(room);
  const its = session ? room : ((await room.ofSecret?.(hashOf(key))) ?? room);
  return { room: its, session: session ?? (its.shopId === room.shopId ? undefined : await sessionIn(its)) };
}

async function inventedActor(c: Context<Web>, room: Room): Promise<Actor> {
  const here = (await people(room.shell.db, room.shopId)).filter((person) => person.active);
  const asked = getCookie(c, ACTS_AS_COOKIE);
  const actor =
    here.find((person) => person.person_id === asked) ??
    here.find((person) => person.role === 'owner') ??
    here[0];
  return actor
    ? { personId: actor.person_id, name: actor.name, role: actor.role }
    : { personId: '', name: 'Owner', role: 'owner' };
}

export const actAs = (c: Context<Web>, personId: string): void =>
  setCookie(c, ACTS_AS_COOKIE, personId, { httpOnly: true, sameSite: 'Strict', path: '/' });

import type { Context, Hono } from 'hono';
import { encodeQR } from 'qr';
import type { FieldTrouble, FormValues } from '../../dashboard/pieces/view.ts';
import { renderDocument } from '../../dashboard/shell/page.tsx';
import { CodePage, CodesPage, FactorPage, JoinPage, SignInPage } from '../../dashboard/sign-in/page.tsx';
import { type FactorSeal, noFactorSeal } from '../followup/factorSeal.ts';
import { factorAddress } from '../followup/oneTimeCode.ts';
import { hashOf } from '../followup/secrets.ts';
import { giveCode, type Started, signIn } from '../followup/signIn.ts';
import { proposeFactor, proveFactor } from '../followup/signInFactor.ts';
import { joinByLink, lookAtLink, SIGN_IN_LINK_PATH } from '../followup/signInLink.ts';
import type { Room } from '../house.ts';
import type { Problem } from '../problems.ts';
import { endSessions } from '../store/sessions.ts';
import { findShop, people } from '../store/shops.ts';
import { firstOwner } from '../store/signIns.ts';
import { pageOfOurs } from './doors.ts';
import { dropSession, giveSession, sessionKey } from './sessionCookie.ts';
import { trouble } from './trouble.tsx';
import { field, type House, roomOfCaller, type Web } from './web.ts';

type C = Context<Web>;

/** Light squares round the picture, as readers need them (ISO/IEC 18004, quiet zone of 4 modules). */
const EDGE = 4;

/** How people come in and go out: password, second factor, one-time links. Open to those who are not signed in. */
export function signInRoutes(app: Hono<Web>, house: House): void {
  app.get('/sign-in', (c) => signInPage(c, roomOf(c, house), {}, [], pageOfOurs(c.req.query('to'))));
  app.post('/sign-in', async (c) => {
    const room = roomOf(c, house);
    const typed = { email: field(c, 'email'), password: secretField(c, 'password') };
    const to = pageOfOurs(field(c, 'to'));
    // Where an address has accounts in several shops, the password tells which is meant.
    let problems: readonly Problem[] = [];
    for (const its of (await room.ofAccount?.(typed.email)) ?? [room]) {
      const done = await signIn(its.shell, its.shopId, typed, c.get('caller'), sessionKey(c));
      if (done.ok) return goOn(c, done.value, to);
      problems = done.problems;
    }
    return signInPage(c, room, { email: typed.email }, problems, to);
  });

  app.get('/sign-in/code', (c) => codePage(c, house, []));
  app.post('/sign-in/code', async (c) => {
    const { shell, shopId } = roomOf(c, house);
    const session = c.get('session');
    if (session?.stage !== 'code') return c.redirect('/sign-in', 303);
    const done = await giveCode(
      shell,
      shopId,
      session,
      field(c, 'code'),
      c.get('caller'),
      sessionKey(c)!,
      sealOf(house),
    );
    return done.ok ? goOn(c, done.value, '/bench') : codePage(c, house, done.problems);
  });

  app.get(`${SIGN_IN_LINK_PATH}:secret`, async (c) => {
    const room = await roomOfLink(c, house);
    const person = await lookAtLink(room.shell, room.shopId, c.req.param('secret'));
    if (!person) return noLink(c);
    // The owner of a new shop has a name still to be given.
    const values = { name: person.name === 'Owner' ? '' : person.name, email: person.email ?? '' };
    return joinPage(c, room, values, []);
  });
  app.post(`${SIGN_IN_LINK_PATH}:secret`, async (c) => {
    const room = await roomOfLink(c, house);
    const typed = {
      name: field(c, 'name'),
      email: field(c, 'email'),
      password: secretField(c, 'password'),
      again: secretField(c, 'password_again'),
    };
    const before = sessionKey(c);
    const done = await joinByLink(
      room.shell,
      room.shopId,
      c.req.param('secret'),
      typed,
      c.get('caller'),
      before,
    );
    if (done.ok) return goOn(c, done.value, '/sign-in/second-factor');
    if (done.problems[0]!.code === 'no-link') return noLink(c);
    return joinPage(c, room, { name: typed.name, email: typed.email }, done.problems);
  });

  app.get('/sign-in/second-factor', (c) => factorPage(c, house, []));
  app.post('/sign-in/second-factor', async (c) => {
    const { shell, shopId } = roomOf(c, house);
    const session = c.get('session');
    if (!session || session.stage === 'code') return c.redirect('/sign-in', 303);
    const code = field(c, 'code');
    const done = await proveFactor(
      shell,
      shopId,
      session,
      code,
      c.get('caller'),
      sessionKey(c)!,
      sealOf(house),
    );
    if (!done.ok) return factorPage(c, house, done.problems);
    giveSession(c, done.value.key);
    const shop = await findShop(shell.db, shopId);
    return c.html(renderDocument(<CodesPage view={{ shopName: shop.name, codes: done.value.codes }} />));
  });

  app.post('/sign-out', async (c) => {
    const { shell, shopId } = roomOf(c, house);
    const session = c.get('session');
    if (session)
      await endSessions(
        shell.db,
        shopId,
        session.person_id,
        { hash: session.session_hash },
        shell.clock.now(),
      );
    dropSession(c);
    return c.redirect('/sign-in', 303);
  });
}

/** Before these routes the gate has made sure that a shop is open. */
const roomOf = (c: C, house: House): Room => roomOfCaller(c, house)!;

/** The room of the shop whose link it is. */
async function roomOfLink(c: C, house: House): Promise<Room> {
  const room = house.room()!;
  return (await room.ofSecret?.(hashOf(c.req.param('secret') ?? ''))) ?? room;
}

/** Secrets of second factors lie closed where a key is kept for them. */
const sealOf = (house: House): FactorSeal => house.factorSeal ?? noFactorSeal;

/** A password is taken letter by letter, with the space around it. */
function secretField(c: C, name: string): string {
  const value = c.get('form').get(name);
  return typeof value === 'string' ? value : '';
}

function goOn(c: C, { key, stage }: Started, to: string) {
  giveSession(c, key);
  const next = { whole: to, code: '/sign-in/code', 'set-up': '/sign-in/second-factor' }[stage];
  return c.redirect(next, 303);
}

const told = (problems: readonly Problem[]): FieldTrouble[] =>
  problems.map(({ where, what, mend }) => ({ field: where, text: `${what} ${mend}` }));

const statusOf = (problems: readonly Problem[]): 200 | 400 | 429 =>
  problems.length === 0 ? 200 : problems.some(({ code }) => code === 'too-often') ? 429 : 400;

async function around(c: C, room: Room, problems: readonly Problem[]) {
  const shop = await findShop(room.shell.db, room.shopId);
  return { csrf: c.get('csrf'), shopName: shop.name, troubles: told(problems) };
}

async function signInPage(c: C, room: Room, values: FormValues, problems: readonly Problem[], to: string) {
  const owner = await firstOwner(room.shell.db, room.shopId);
  const view = { ...(await around(c, room, problems)), values, to, nobodyYet: owner?.anySignIn !== true };
  return c.html(renderDocument(<SignInPage view={view} />), statusOf(problems));
}

async function codePage(c: C, house: House, problems: readonly Problem[]) {
  if (c.get('session')?.stage !== 'code') return c.redirect('/sign-in', 303);
  const view = await around(c, roomOf(c, house), problems);
  return c.html(renderDocument(<CodePage view={view} />), statusOf(problems));
}

async function joinPage(c: C, room: Room, values: FormValues, problems: readonly Problem[]) {
  const view = { ...(await around(c, room, problems)), action: c.req.path, values };
  return c.html(renderDocument(<JoinPage view={view} />), statusOf(problems));
}

async function factorPage(c: C, house: House, problems: readonly Problem[]) {
  const room = roomOf(c, house);
  const session = c.get('session');
  if (!session || session.stage === 'code') return c.redirect('/sign-in', 303);
  const secret = await proposeFactor(room.shell, room.shopId, session.person_id, sealOf(house));
  if (secret === null) return c.redirect('/my-sign-in', 303);
  const base = await around(c, room, problems);
  const person = (await people(room.shell.db, room.shopId)).find(
    (one) => one.person_id === session.person_id,
  );
  const address = factorAddress(secret, base.shopName, person?.email ?? session.name);
  const view = {
    ...base,
    secret: secret.replace(/.{4}/g, '$& ').trim(),
    squares: encodeQR(address, 'raw', { border: EDGE }),
    mayWait: session.stage === 'whole',
  };
  return c.html(renderDocument(<FactorPage view={view} />), statusOf(problems));
}

const noLink = (c: C) =>
  trouble(
    c,
    404,
    'This link was used already, or its time is over.',
    'Ask an owner for a new one; the owner’s own comes from the command “afterfit owner-link”.',
  );

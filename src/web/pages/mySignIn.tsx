import type { Context, Hono } from 'hono';
import { ActAsPage } from '../../../dashboard/act-as/page.tsx';
import { MySignInPage } from '../../../dashboard/my-sign-in/page.tsx';
import type { SessionEntry } from '../../../dashboard/my-sign-in/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { CodesPage } from '../../../dashboard/sign-in/page.tsx';
import { localDay } from '../../followup/planSlots.ts';
import { changeOwnSignIn, type OwnChange, provePassword } from '../../followup/signInFactor.ts';
import { idleSince } from '../../followup/signInSession.ts';
import type { Problem } from '../../problems.ts';
import { endSessions, openSessions, type Session } from '../../store/sessions.ts';
import { people, type Shop } from '../../store/shops.ts';
import { recoveryCodesLeft, signInOf } from '../../store/signIns.ts';
import { shortTime } from '../format.ts';
import { dropSession } from '../sessionCookie.ts';
import { actAs } from '../sessions.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, type Web } from '../web.ts';
import { licenceWords } from './people.tsx';

type C = Context<Web>;

/** A person's own sign-in; in the invented shop, whom one is instead. */
export function mySignInRoutes(app: Hono<Web>): void {
  app.get('/my-sign-in', (c) => page(c));
  app.post('/my-sign-in/password', (c) =>
    change(
      c,
      { kind: 'password', password: raw(c, 'password'), again: raw(c, 'password_again') },
      'Your password is changed, and you are signed out everywhere else.',
    ),
  );
  app.post('/my-sign-in/codes', (c) => change(c, { kind: 'new codes' }, ''));
  app.post('/my-sign-in/factor/remove', (c) =>
    change(c, { kind: 'no factor' }, 'The second factor is gone: you can sign in only at this machine.'),
  );
  app.post('/my-sign-in/sessions/:id/end', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const proven = await provePassword(room.shell, room.shopId, room.actor.personId, raw(c, 'current'));
    if (!proven.ok)
      return page(
        c,
        proven.problems.map((one) => ({ ...one, where: 'ending' })),
      );
    await endSessions(room.shell.db, room.shopId, room.actor.personId, { hash: id }, room.shell.clock.now());
    if (c.get('session')?.session_hash === id) dropSession(c);
    return back(c, '/my-sign-in', { kind: 'done', text: 'That sign-in is ended.' });
  });

  app.get('/act-as', async (c) => {
    const room = c.get('room');
    if (room.kind !== 'invented') return c.redirect('/my-sign-in', 303);
    const { shell, shop, now } = await loadShell(c, 'Act as somebody else', '/people');
    const today = localDay(now, shop.time_zone);
    const view = {
      people: (await people(room.shell.db, room.shopId))
        .filter((person) => person.active)
        .map((person) => ({
          personId: person.person_id,
          name: person.name,
          role: person.role,
          licence: licenceWords(person, today),
          now: person.person_id === room.actor.personId,
        })),
    };
    return c.html(renderDocument(<ActAsPage shell={shell} view={view} />));
  });
  app.post('/act-as', async (c) => {
    const room = c.get('room');
    if (room.kind !== 'invented')
      return trouble(c, 403, 'Only in the invented shop.', 'Sign in as yourself.');
    const asked = field(c, 'person_id');
    const person = (await people(room.shell.db, room.shopId)).find(
      (one) => one.active && one.person_id === asked,
    );
    if (!person)
      return back(c, '/act-as', {
        kind: 'trouble',
        text: 'There is no such person. Choose one of the list.',
      });
    actAs(c, person.person_id);
    return back(c, '/bench', { kind: 'done', text: `You act as ${person.name} now.` });
  });
}

async function change(c: C, wanted: OwnChange, done: string) {
  const room = c.get('room');
  const session = c.get('session');
  if (!session) return c.redirect('/act-as', 303);
  const current = raw(c, 'current');
  const answer = await changeOwnSignIn(room.shell, room.shopId, session, current, wanted, c.get('caller'));
  if (!answer.ok) return page(c, answer.problems);
  if (answer.value.codes.length === 0) return back(c, '/my-sign-in', { kind: 'done', text: done });
  const { shop } = await loadShell(c, '', '');
  return c.html(renderDocument(<CodesPage view={{ shopName: shop.name, codes: answer.value.codes }} />));
}

async function page(c: C, problems: readonly Problem[] = []) {
  const room = c.get('room');
  const mine = c.get('session');
  if (!mine) return c.redirect('/act-as', 303);
  const { shell, shop, now } = await loadShell(c, 'My sign-in', '/my-sign-in');
  const { db } = room.shell;
  const account = await signInOf(db, room.shopId, mine.person_id);
  const person = (await people(db, room.shopId)).find((one) => one.person_id === mine.person_id);
  const sessions = await openSessions(db, room.shopId, mine.person_id, now, idleSince(now));
  const view = {
    email: person?.email ?? '',
    passwordSince: account ? shortTime(account.password_at, now, shop.time_zone) : '',
    factorSince: account?.factor_since ? shortTime(account.factor_since, now, shop.time_zone) : null,
    codesLeft: await recoveryCodesLeft(db, room.shopId, mine.person_id),
    sessions: sessions.map((one) => sessionEntry(one, mine.session_hash, now, shop)),
    troubles: problems.map(({ where, what, mend }) => ({ field: where, text: `${what} ${mend}` })),
  };
  return c.html(renderDocument(<MySignInPage shell={shell} view={view} />), problems.length > 0 ? 400 : 200);
}

export const sessionEntry = (
  one: Session,
  mine: string | undefined,
  now: Date,
  shop: Shop,
): SessionEntry => ({
  id: one.session_hash,
  about: one.about,
  address: one.address,
  since: shortTime(one.started_at, now, shop.time_zone),
  seen: shortTime(one.seen_at, now, shop.time_zone),
  here: one.session_hash === mine,
});

/** A password is taken letter by letter. */
function raw(c: C, name: string): string {
  const value = c.get('form').get(name);
  return typeof value === 'string' ? value : '';
}

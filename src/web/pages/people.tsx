import type { Context, Hono } from 'hono';
import { PeoplePage } from '../../../dashboard/people/page.tsx';
import type { PeopleView } from '../../../dashboard/people/view.ts';
import type { FormValues } from '../../../dashboard/pieces/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { API_SCOPES, type ApiScope, makeToken, revokeToken } from '../../followup/apiTokens.ts';
import { keepPerson, letPersonLeave, signOutEverywhere } from '../../followup/keepPerson.ts';
import { localDay } from '../../followup/planSlots.ts';
import { makeLink } from '../../followup/signInLink.ts';
import { idleSince } from '../../followup/signInSession.ts';
import type { Checked, Problem } from '../../problems.ts';
import { licensedOn } from '../../store/papers.ts';
import { type OnCallHours, onCallHoursOf } from '../../store/people.ts';
import { openSessions } from '../../store/sessions.ts';
import { type Person, people } from '../../store/shops.ts';
import { type SignIn, signInsOf } from '../../store/signIns.ts';
import { tokensOf } from '../../store/tokens.ts';
import { readable, shortDay, shortTime } from '../format.ts';
import { trouble } from '../trouble.tsx';
import { back, field, type House, loadShell, personName, type Web } from '../web.ts';
import { formValues } from './formValues.ts';

/** Who works here, who is licensed until when, who is told first when someone is in danger. */
export function peopleRoutes(app: Hono<Web>, house: House): void {
  app.get('/people', (c) => page(c, c.req.query('change') ?? null));

  app.post('/people', async (c) => {
    const { shell, shopId } = c.get('room');
    const done = await keepPerson(shell, shopId, null, formValues(c), await personName(c.get('room')));
    return answer(c, done, null, (name) => `${name} is added.`);
  });

  app.post('/people/tokens', async (c) => {
    const { shell, shopId } = c.get('room');
    const scopes = c.get('form').getAll('scopes').map(String);
    const typed = { name: field(c, 'token_name'), scopes };
    const done = await makeToken(shell, shopId, typed, personName(c.get('room')));
    if (!done.ok) return page(c, null, { refused: { values: formValues(c), problems: done.problems } });
    return page(c, null, { fresh: { kind: 'token', whose: done.value.name, secret: done.value.token } });
  });

  app.post('/people/tokens/:id/revoke', async (c) => {
    const { shell, shopId } = c.get('room');
    const done = await revokeToken(shell, shopId, c.req.param('id'), personName(c.get('room')));
    if (!done.ok) return back(c, '/people', done.problems);
    return back(c, '/people', { kind: 'done', text: `The token of ${done.value.name} opens nothing now.` });
  });

  app.post('/people/:id/link', async (c) => {
    const room = c.get('room');
    if (room.kind === 'invented')
      return trouble(c, 403, 'Nobody signs in at the invented shop.', 'Act as them instead.');
    const factorLost = field(c, 'factor_lost') === 'yes';
    const done = await makeLink(room.shell, room.shopId, c.req.param('id'), factorLost, personName(room));
    if (!done.ok) return trouble(c, 404, done.problems[0]!.what, done.problems[0]!.mend);
    const base = house.pagesUrl ?? new URL(c.req.url).origin;
    const fresh = { kind: 'link', whose: done.value.name, secret: `${base}${done.value.path}` } as const;
    return page(c, null, { fresh });
  });

  app.post('/people/:id/sign-out', async (c) => {
    const { shell, shopId } = c.get('room');
    const done = await signOutEverywhere(shell, shopId, c.req.param('id'), personName(c.get('room')));
    if (!done.ok) return trouble(c, 404, done.problems[0]!.what, done.problems[0]!.mend);
    return back(c, '/people', { kind: 'done', text: `${done.value.name} is signed out everywhere.` });
  });

  app.post('/people/:id', async (c) => {
    const { shell, shopId } = c.get('room');
    const id = c.req.param('id');
    const done = await keepPerson(shell, shopId, id, formValues(c), await personName(c.get('room')));
    return answer(c, done, id, (name) => `${name} is changed.`);
  });

  app.post('/people/:id/leave', async (c) => {
    const { shell, shopId } = c.get('room');
    const done = await letPersonLeave(shell, shopId, c.req.param('id'), await personName(c.get('room')));
    if (!done.ok && done.problems[0]!.code !== 'no-person') return back(c, '/people', done.problems);
    return answer(c, done, null, (name) => `${name} is no longer here; what they did stays on record.`);
  });
}

function answer(
  c: Context<Web>,
  done: Checked<{ name: string }>,
  changing: string | null,
  words: (name: string) => string,
) {
  if (done.ok) return back(c, '/people', { kind: 'done', text: words(done.value.name) });
  const gone = done.problems.find(({ code }) => code === 'no-person');
  if (gone) return trouble(c, 404, gone.what, gone.mend);
  return page(c, changing, { refused: { values: formValues(c), problems: done.problems } });
}

async function page(
  c: Context<Web>,
  changing: string | null,
  told: {
    readonly refused?: { readonly values: FormValues; readonly problems: readonly Problem[] };
    readonly fresh?: PeopleView['fresh'];
  } = {},
) {
  const { refused } = told;
  const room = c.get('room');
  const { shell, shop, now } = await loadShell(c, 'People', '/people');
  const everyone = await people(room.shell.db, room.shopId);
  const hours = await onCallHoursOf(room.shell.db, room.shopId);
  const today = localDay(now, shop.time_zone);
  const mended = everyone.find((person) => person.person_id === changing && person.active);
  const real = room.kind === 'own';
  const signIns = await signInsOf(room.shell.db, room.shopId);
  const open = await openSessions(room.shell.db, room.shopId, undefined, now, idleSince(now));
  const signedIn = new Set(open.map((session) => session.person_id));
  const tokens = await tokensOf(room.shell.db, room.shopId);
  const licensed = await licensedOn(room.shell.db, room.shopId, today);
  const view: PeopleView = {
    fresh: told.fresh ?? null,
    signInExists: real,
    licenceTrouble:
      licensed.length > 0
        ? null
        : 'Nobody here is marked as licensed: remakes, notes to the prescriber and closures after a danger sign wait to be signed.',
    tokens: tokens.map((token) => ({
      tokenId: token.token_id,
      name: token.name,
      may: token.scopes.map((scope) => SCOPE_WORDS[scope as ApiScope] ?? scope).join(', '),
      made: `${shortTime(token.made_at, now, shop.time_zone)}, ${token.made_by}`,
      used: token.used_at ? shortTime(token.used_at, now, shop.time_zone) : 'never',
    })),
    scopes: API_SCOPES.map((value) => ({ value, words: SCOPE_WORDS[value] })),
    people: everyone.map((person) => ({
      ...(real
        ? { signsIn: signInWords(signIns.get(person.person_id), signedIn.has(person.person_id)) }
        : {}),
      signedIn: signedIn.has(person.person_id),
      personId: person.person_id,
      name: person.name,
      email: person.email ?? '',
      phone: person.phone_e164 ? readable(person.phone_e164) : '',
      role: person.role,
      licence: licenceWords(person, today),
      onCall: person.on_call_order,
      active: person.active,
      onCallHours: hoursWords(hours.get(person.person_id)),
    })),
    onCallTrouble: onCallTrouble(everyone),
    changing: mended ? { personId: mended.person_id, name: mended.name } : null,
    values: refused?.values ?? (mended ? valuesOf(mended, hours.get(mended.person_id)) : {}),
    troubles: (refused?.problems ?? []).map(({ where, what, mend }) => ({
      field: where,
      text: `${what} ${mend}`,
    })),
  };
  return c.html(renderDocument(<PeoplePage shell={shell} view={view} />), refused ? 400 : 200);
}

const SCOPE_WORDS: Readonly<Record<ApiScope, string>> = {
  import: 'take jobs in (POST /api/import)',
  'check-job': 'check a job at the bench (POST /api/check-job)',
  corrections: 'read corrections (GET /api/corrections)',
  'alarm-test': 'test the alarm (POST /api/alarm-test)',
};

const signInWords = (account: SignIn | undefined, now: boolean): string =>
  account === undefined
    ? 'cannot sign in yet'
    : `${account.factor_since === null ? 'only at this machine, without a second factor' : 'with a second factor'}${now ? '; signed in now' : ''}`;

/** Licensed through the whole of the last day. */
export function licenceWords(person: Pick<Person, 'licensed_until'>, today: string): string {
  const until = person.licensed_until;
  if (until === null) return 'not licensed';
  const day = shortDay(until, Number(today.slice(0, 4)));
  return until >= today ? `licensed until ${day}` : `licence ran out ${day}`;
}

function onCallTrouble(everyone: readonly Person[]): string | null {
  const onCall = everyone.filter((person) => person.active && person.on_call_order !== null);
  if (onCall.length === 0) return 'Nobody is on call: an alarm would reach no person.';
  const silent = onCall.filter((person) => person.email === null && person.phone_e164 === null);
  if (silent.length > 0)
    return `${silent.map((person) => person.name).join(' and ')} cannot be told of danger: no number and no address is known.`;
  return onCall.length === 1
    ? 'Only one person is on call: when they do not answer, nobody else is told.'
    : null;
}

const DAY_WORDS: Readonly<Record<string, string>> = {
  '1,2,3,4,5,6,7': 'every day',
  '1,2,3,4,5': 'Mondays to Fridays',
  '1,2,3,4,5,6': 'Mondays to Saturdays',
  '6,7': 'Saturdays and Sundays',
};

const hoursWords = (hours: OnCallHours | undefined): string =>
  hours === undefined
    ? ''
    : `${DAY_WORDS[hours.days.join(',')] ?? 'on some days'}, ${hours.fromHour} to ${hours.toHour}`;

const valuesOf = (person: Person, hours: OnCallHours | undefined): FormValues => ({
  name: person.name,
  phone: person.phone_e164 ? readable(person.phone_e164) : '',
  email: person.email ?? '',
  role: person.role,
  licence_number: person.licence_number ?? '',
  licensed_until: person.licensed_until ?? '',
  on_call_order: person.on_call_order === null ? '' : String(person.on_call_order),
  on_call_days: hours?.days.join(',') ?? '',
  on_call_from: hours === undefined ? '' : String(hours.fromHour),
  on_call_to: hours === undefined ? '' : String(hours.toHour),
});

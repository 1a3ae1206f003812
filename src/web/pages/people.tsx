import type { Context, Hono } from 'hono';
import { PeoplePage } from '../../../dashboard/people/page.tsx';
import type { PeopleView } from '../../../dashboard/people/view.ts';
import type { FormValues } from '../../../dashboard/pieces/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { keepPerson, letPersonLeave } from '../../followup/keepPerson.ts';
import { localDay } from '../../followup/planSlots.ts';
import type { Checked, Problem } from '../../problems.ts';
import { type OnCallHours, onCallHoursOf } from '../../store/people.ts';
import { type Person, people } from '../../store/shops.ts';
import { readable, shortDay } from '../format.ts';
import { trouble } from '../trouble.tsx';
import { back, loadShell, personName, type Web } from '../web.ts';
import { formValues } from './formValues.ts';

/** Who works here, who is licensed until when, who is told first when someone is in danger. */
export function peopleRoutes(app: Hono<Web>): void {
  app.get('/people', (c) => page(c, c.req.query('change') ?? null));

  app.post('/people', async (c) => {
    const { shell, shopId } = c.get('room');
    const done = await keepPerson(shell, shopId, null, formValues(c), await personName(c.get('room')));
    return answer(c, done, null, (name) => `${name} is added.`);
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
  return page(c, changing, { values: formValues(c), problems: done.problems });
}

async function page(
  c: Context<Web>,
  changing: string | null,
  refused?: { readonly values: FormValues; readonly problems: readonly Problem[] },
) {
  const room = c.get('room');
  const { shell, shop, now } = await loadShell(c, 'People', '/people');
  const everyone = await people(room.shell.db, room.shopId);
  const hours = await onCallHoursOf(room.shell.db, room.shopId);
  const today = localDay(now, shop.time_zone);
  const mended = everyone.find((person) => person.person_id === changing && person.active);
  const view: PeopleView = {
    people: everyone.map((person) => ({
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

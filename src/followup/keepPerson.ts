import { Temporal } from 'temporal-polyfill';
import { readEmail, reservedEmail } from '../intake/emailAddress.ts';
import { readPhone, reservedForFiction } from '../intake/phone.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import {
  addPerson,
  changePerson,
  lockPeople,
  type OnCallHours,
  type PersonData,
  personLeft,
} from '../store/people.ts';
import { endSessions } from '../store/sessions.ts';
import { findShop, type Person, type Shop } from '../store/shops.ts';
import { endLinks } from '../store/signIns.ts';
import type { Shell } from './shell.ts';

const LAST_PLACE = 20;

export const noSuchPerson: Problem = {
  code: 'no-person',
  what: 'There is no such person.',
  where: 'person',
  mend: 'Open People again.',
};

/**
 * Adds a person, or changes one (`personId`). A place among those told in danger needs a number or an address and is nobody
 * else's; a licence needs its number and the day until which it holds.
 */
export async function keepPerson(
  shell: Shell,
  shopId: string,
  personId: string | null,
  typed: Readonly<Record<string, string>>,
  by: string,
): Promise<Checked<{ name: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const shop = await findShop(trx, shopId);
    const everyone = await lockPeople(trx, shopId);
    const there = everyone.find((one) => one.person_id === personId);
    if (personId !== null && !there) return bad(noSuchPerson);
    const others = everyone.filter((one) => one.active && one.person_id !== personId);
    const read = readPerson(typed, shop, others);
    if (!read.ok) return read;
    if (there?.role === 'owner' && read.value.role !== 'owner' && !others.some(isOwner))
      return bad(lastOwner('role'));
    if (personId === null) await addPerson(trx, shopId, read.value, now);
    else await changePerson(trx, shopId, personId, read.value);
    const act = personId === null ? 'person added' : 'person changed';
    await addAudit(trx, shopId, { by, act, subject: read.value.name, detail: read.value }, now);
    return good({ name: read.value.name });
  });
}

/** Somebody works here no longer: kept for the record, told nothing any more. A shop keeps an owner. */
export async function letPersonLeave(
  shell: Shell,
  shopId: string,
  personId: string,
  by: string,
): Promise<Checked<{ name: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const everyone = await lockPeople(trx, shopId);
    const person = everyone.find((one) => one.person_id === personId && one.active);
    if (!person) return bad(noSuchPerson);
    const others = everyone.filter((one) => one.active && one !== person);
    if (isOwner(person) && !others.some(isOwner)) return bad(lastOwner('person'));
    await personLeft(trx, shopId, personId);
    await endSessions(trx, shopId, personId, {}, now);
    await endLinks(trx, shopId, personId, now);
    await addAudit(trx, shopId, { by, act: 'person left', subject: person.name, detail: {} }, now);
    return good({ name: person.name });
  });
}

/** Ends every session of a person: a lost telephone, or a browser that was left open. */
export async function signOutEverywhere(
  shell: Shell,
  shopId: string,
  personId: string,
  by: string,
): Promise<Checked<{ name: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const person = (await lockPeople(trx, shopId)).find((one) => one.person_id === personId);
    if (!person) return bad(noSuchPerson);
    await endSessions(trx, shopId, personId, {}, now);
    await addAudit(trx, shopId, { by, act: 'signed out everywhere', subject: personId, detail: {} }, now);
    return good({ name: person.name });
  });
}

const isOwner = (person: Person): boolean => person.role === 'owner';

const lastOwner = (where: string): Problem => ({
  code: 'last-owner',
  what: 'The shop would have no owner.',
  where,
  mend: 'Make somebody else the owner first.',
});

function readPerson(
  typed: Readonly<Record<string, string>>,
  shop: Shop,
  others: readonly Person[],
): Checked<PersonData> {
  const problems: Problem[] = [];
  const refuse = (where: string, what: string, mend: string) =>
    problems.push({ code: `person-${where}`, what, where, mend });
  const words = (name: string) => (typed[name] ?? '').trim();
  const invented = shop.kind === 'invented';

  const name = words('name').replace(/\s+/g, ' ');
  if (name === '' || name.length > 80)
    refuse('name', 'The name is missing or too long.', 'Write 1 to 80 letters.');
  const role = words('role') || 'staff';
  if (role !== 'staff' && role !== 'owner') refuse('role', `“${role}” is no role.`, 'Choose staff or owner.');

  const phone = words('phone') === '' ? undefined : readPhone(words('phone'), shop.country);
  if (phone && !phone.ok) problems.push(...phone.problems);
  const phoneE164 = phone?.ok ? phone.value.e164 : null;
  if (invented && phoneE164 !== null && !reservedForFiction(phoneE164))
    refuse(
      'phone',
      'In the invented shop nobody is real.',
      'Give a number that is reserved for fiction: 202-555-0100 to 0199.',
    );
  const email = words('email') === '' ? undefined : readEmail(words('email'));
  if (email && !email.ok) problems.push(...email.problems);
  const address = email?.ok ? email.value : null;
  const sameAddress = others.find(
    (one) => address !== null && one.email?.toLowerCase() === address.toLowerCase(),
  );
  if (sameAddress)
    refuse('email', `This address is ${sameAddress.name}’s.`, 'Give another: people sign in with it.');
  if (invented && address !== null && !reservedEmail(address))
    refuse('email', 'In the invented shop nobody is real.', 'Give an address at example.com, .net or .org.');

  const licenceNumber = words('licence_number').slice(0, 60) || null;
  const licensedUntil = words('licensed_until') || null;
  if (licensedUntil !== null && !isDay(licensedUntil))
    refuse('licensed_until', `“${licensedUntil}” is no day.`, 'Write it as year-month-day.');
  if ((licenceNumber === null) !== (licensedUntil === null))
    refuse(
      licenceNumber === null ? 'licence_number' : 'licensed_until',
      'A licence needs its number and the day until which it holds.',
      'Fill in both, or neither.',
    );

  const place = words('on_call_order');
  const onCallOrder = place === '' ? null : Number(place);
  if (
    onCallOrder !== null &&
    !(Number.isInteger(onCallOrder) && onCallOrder >= 1 && onCallOrder <= LAST_PLACE)
  )
    refuse(
      'on_call_order',
      `“${place}” is no place in a row.`,
      `Write 1 to ${LAST_PLACE}, or leave it empty.`,
    );
  else if (onCallOrder !== null) {
    const holder = others.find((one) => one.on_call_order === onCallOrder);
    if (holder)
      refuse(
        'on_call_order',
        `Place ${onCallOrder} is ${holder.name}’s.`,
        'Take another, or change theirs first.',
      );
    if (words('phone') === '' && words('email') === '')
      refuse('on_call_order', 'Nobody can be told without a number or an address.', 'Give one of them.');
  }
  const hours = readHours(typed);
  if (!hours.ok) problems.push(...hours.problems);
  if (problems.length > 0) return bad(...problems);
  return good({
    name,
    email: address,
    phoneE164,
    role: role as 'staff' | 'owner',
    licenceNumber,
    licensedUntil,
    onCallOrder,
    onCallHours: hours.ok ? hours.value : null,
  });
}

/** Days and full hours in which somebody is told of danger; all three left empty: at any hour. */
export const ON_CALL_DAYS = ['1,2,3,4,5,6,7', '1,2,3,4,5', '1,2,3,4,5,6', '6,7'] as const;

function readHours(typed: Readonly<Record<string, string>>): Checked<OnCallHours | null> {
  const [from, to, days] = ['on_call_from', 'on_call_to', 'on_call_days'].map((name) =>
    (typed[name] ?? '').trim(),
  );
  if (from === '' && to === '') return good(null);
  const whole = (text: string | undefined, least: number, most: number): number | undefined =>
    /^\d{1,2}$/.test(text ?? '') && Number(text) >= least && Number(text) <= most ? Number(text) : undefined;
  const fromHour = whole(from, 0, 23);
  const toHour = whole(to, 1, 24);
  const chosen = ON_CALL_DAYS.find((one) => one === (days || ON_CALL_DAYS[0]));
  const refuse = (where: string, what: string, mend: string) =>
    bad({ code: `person-${where}`, what, where, mend });
  if (fromHour === undefined)
    return refuse('on_call_from', `“${from}” is no full hour.`, 'Write 0 to 23, or leave both hours empty.');
  if (toHour === undefined || toHour <= fromHour)
    return refuse(
      'on_call_to',
      `“${to}” is no full hour after ${fromHour}.`,
      'Write 1 to 24, or leave both hours empty.',
    );
  if (!chosen) return refuse('on_call_days', `“${days}” are no days of the list.`, 'Choose one of the list.');
  return good({ days: chosen.split(',').map(Number), fromHour, toHour });
}

function isDay(text: string): boolean {
  if (!/^(19|20|21)\d{2}-\d{2}-\d{2}$/.test(text)) return false;
  try {
    Temporal.PlainDate.from(text, { overflow: 'reject' });
    return true;
  } catch {
    return false;
  }
}

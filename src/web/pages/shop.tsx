import type { Context, Hono } from 'hono';
import type { FormValues } from '../../../dashboard/pieces/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { ShopPage } from '../../../dashboard/shop/page.tsx';
import type { ShopView } from '../../../dashboard/shop/view.ts';
import { consentWords } from '../../followup/consentWords.ts';
import { USUAL_LAB_WINDOW, USUAL_PROMISE_DAYS } from '../../followup/deadlines.ts';
import { USUAL_RAW_DAYS } from '../../followup/forget.ts';
import { COSTS, keepShop, type ShopSection } from '../../followup/keepShop.ts';
import { noteConsentWords } from '../../followup/noteTried.ts';
import { hoursOf } from '../../followup/openHours.ts';
import { type LiveTick, ticksBeforeLive } from '../../followup/readyToGoLive.ts';
import { STANDARDS } from '../../followup/toleranceStandard.ts';
import type { Room } from '../../house.ts';
import type { Problem } from '../../problems.ts';
import type { Shop } from '../../store/shops.ts';
import { shortTime } from '../format.ts';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { formValues } from './formValues.ts';

/** Hours, deadlines, costs, local numbers, ways, and the ticks before going live. */
export function shopRoutes(app: Hono<Web>): void {
  app.get('/shop', (c) => page(c));
  app.post('/shop/try', async (c) => {
    const room = c.get('room');
    if (!room.tryOutside || room.kind === 'invented') {
      return back(c, '/shop', {
        kind: 'done',
        text: 'In the invented shop nothing leaves: there is nothing to try.',
      });
    }
    return back(c, '/shop', triedNotice(await room.tryOutside(await personName(room))));
  });
  app.post('/shop/consent-words', async (c) => {
    const room = c.get('room');
    await noteConsentWords(room.shell, room.shopId, await personName(room));
    return back(c, '/shop', { kind: 'done', text: 'Ticked: staff ask in these words.' });
  });
  app.post('/shop', async (c) => {
    const room = c.get('room');
    const typed = formValues(c);
    const done = await keepShop(room.shell, room.shopId, field(c, 'section'), typed, await personName(room));
    if (!done.ok) return page(c, { values: typed, problems: done.problems });
    return back(c, `/shop#${done.value.section}`, { kind: 'done', text: KEPT[done.value.section] });
  });
}

/** What a try found wrong is told; what works is ticked. */
function triedNotice(checks: readonly { how: string; what: string; told: string }[]) {
  const wrong = checks.filter((one) => one.how === 'wrong');
  if (wrong.length > 0) {
    return { kind: 'trouble', text: wrong.map((one) => `${one.what}: ${one.told}.`).join(' ') } as const;
  }
  return { kind: 'done', text: 'Tried. What works is ticked; nothing was sent.' } as const;
}

const KEPT: Readonly<Record<ShopSection, string>> = {
  shop: 'Kept. The next message is signed so.',
  hours: 'Kept. Calls that are asked for are promised by these hours.',
  deadlines: 'Kept. Every deadline counts by it from now on.',
  danger: 'Kept. The caution names these from now on; read it under Letters.',
  limits: 'Kept. Bench checks and remakes are held against it from now on.',
  keeping: 'Kept. What is older goes by itself, a little each minute.',
  costs: 'Kept. What is empty is named and not counted.',
};

type Refused = { readonly values: FormValues; readonly problems: readonly Problem[] };

async function page(c: Context<Web>, refused?: Refused) {
  const room = c.get('room');
  const { shell, shop, now } = await loadShell(c, 'Shop', '/shop');
  const before = await ticksBefore(c);
  const carrierOf = (channel: 'text' | 'email') => room.shell.carrier(room.shopId, channel)?.name;
  const view: ShopView = {
    before,
    mayGoLive: before.every((tick) => tick.done),
    consentWords: consentWords(shop),
    sections: SECTIONS,
    values: { ...valuesOf(shop), ...(refused ? withoutTicks(refused.values) : {}) },
    troubles: (refused?.problems ?? []).map(({ where, what, mend }) => ({
      field: where,
      text: `${what} ${mend}`,
    })),
    ways: (['text', 'email'] as const).map((channel) => ({
      name: channel === 'text' ? 'Text' : 'Email',
      stands: wayWords(shop, carrierOf(channel)),
    })),
    powerCut: powerCutWords(room, shop, now),
  };
  return c.html(renderDocument(<ShopPage shell={shell} view={view} />), refused ? 400 : 200);
}

/** The embedded engine forces nothing to disk; the journal of replies and the hourly copies do. */
function powerCutWords({ shell: { copies }, databaseIs }: Room, shop: Shop, now: Date): string {
  if (shop.kind === 'invented') return 'Nothing that matters: this shop is invented.';
  if (databaseIs === 'server')
    return 'The database server keeps what it has confirmed, as it is set up to. Keep a backup elsewhere: afterfit backup.';
  const newest = copies?.newest();
  const since = newest ? `all since the copy of ${shortTime(newest, now, shop.time_zone)}` : 'all of it';
  return `Replies are safe: each is forced to disk before it counts as received. Of other work the last moments may be lost, and if the database itself were damaged, ${since}. Keep a backup elsewhere: afterfit backup.`;
}

const wayWords = (shop: Shop, name: string | undefined): string =>
  name === undefined
    ? 'not switched on until it is set and every tick above is there: nothing leaves, and what is due is kept back with this reason'
    : shop.kind === 'invented'
      ? 'rehearsal: nothing leaves this machine'
      : `switched on: ${name}`;

async function ticksBefore(c: Context<Web>): Promise<ShopView['before']> {
  const { shell, shopId, ticks } = c.get('room');
  const stands = ticks ? await ticks() : await ticksBeforeLive(shell, shell.carrier, shopId, {});
  return stands.map(({ tick, done }) => ({ ...TICK_WORDS[tick], done }));
}

const TRY = '#try';
const TICK_WORDS: Readonly<Record<LiveTick['tick'], { readonly words: string; readonly href: string }>> = {
  address: { words: 'Public address: tried and comes here, or done without on purpose', href: TRY },
  sender: { words: 'Number that texts come from: the carrier lets us in', href: TRY },
  mailbox: { words: 'Mailbox: emails out and in let us in', href: TRY },
  'local numbers': { words: 'Local help numbers: without them no caution can be sent', href: '#danger' },
  'on call': { words: 'Someone on call who can be reached by a carrier that is set', href: '/people' },
  hours: { words: 'Opening hours, and the number that wearers may ring', href: '#hours' },
  'consent words': { words: 'The words in which you ask for consent, read', href: '#consent' },
  'licensed person': {
    words: 'A licensed person: remakes and notes to prescribers are signed',
    href: '/people',
  },
  'backup tried': { words: 'A backup made and opened again: run “afterfit backup”', href: '#backup' },
};

const DAY_WORDS = ['Mondays', 'Tuesdays', 'Wednesdays', 'Thursdays', 'Fridays', 'Saturdays', 'Sundays'];

const given = (
  name: string,
  label: string,
  kind: ShopView['sections'][number]['fields'][number]['kind'],
  hint = '',
  choices: ShopView['sections'][number]['fields'][number]['choices'] = [],
) => ({ name, label, kind, hint, choices });

const SECTIONS: ShopView['sections'] = [
  {
    id: 'shop',
    heading: 'The shop',
    says: 'As wearers know it.',
    fields: [
      given('name', 'Name', 'text'),
      given('text_name', 'Name that signs texts', 'text', 'Up to 15 letters keep most texts in one part.'),
      given('phone', 'Number that wearers may ring', 'tel'),
    ],
  },
  {
    id: 'hours',
    heading: 'Open',
    says: 'Who asks for a call is told “in shop hours”; the ring list counts the promise by these.',
    fields: [
      given('from_hour', 'Opens at, full hour', 'number'),
      given('to_hour', 'Closes at, full hour', 'number'),
      ...DAY_WORDS.map((words, index) => given(`day_${index + 1}`, `Open on ${words}`, 'tick')),
    ],
  },
  {
    id: 'deadlines',
    heading: 'Deadlines',
    says: 'A lab’s own terms in the lens book go before what stands here. First worn is day 0 of the promise.',
    fields: [
      given('promise_days', 'We put it right within, days', 'number', `Empty: ${USUAL_PROMISE_DAYS} days.`),
      given(
        'lab_days',
        'The lab makes again within, days',
        'number',
        `Empty: ${USUAL_LAB_WINDOW.days} days.`,
      ),
      given('lab_from', 'counted from', 'choice', '', [
        { value: 'lab invoiced', words: 'the lab’s invoice' },
        { value: 'ordered', words: 'the order' },
        { value: 'handed over', words: 'the hand-over' },
      ]),
    ],
  },
  {
    id: 'limits',
    heading: 'Limits of a finished pair',
    says: 'The bench check, its slip and the limits on a remake go by it. Confirm the figures against your copy of the standard.',
    fields: [
      given('standard', 'Standard', 'choice', '', [
        { value: '', words: 'the usual one of your country' },
        ...STANDARDS.map((standard) => ({ value: standard, words: standard })),
      ]),
    ],
  },
  {
    id: 'danger',
    heading: 'When someone may be in danger',
    says: 'The caution names these; check them against your local services. Local rules and the prescriber come first.',
    fields: [given('local_numbers', 'Local help, one to a line', 'lines', 'who: number; most general first')],
  },
  {
    id: 'costs',
    heading: 'Costs',
    says: 'In your money. Empty means not counted, and said to be so.',
    fields: [
      given('lenses_per_remake', 'Lenses for a remake', 'number'),
      given('staff_hours_per_return', 'Hours of staff for each return', 'number'),
      given('staff_cost_per_hour', 'An hour of staff', 'number'),
      given('postage_per_return', 'Postage for each return', 'number'),
    ],
  },
  {
    id: 'keeping',
    heading: 'How long things are kept',
    says: 'Pictures go 30 days after their case is closed. What wearers wrote stays with the case.',
    fields: [
      given(
        'keep_raw_days',
        'Whole mails, and what the carrier gave along, days',
        'number',
        `Empty: ${USUAL_RAW_DAYS} days.`,
      ),
    ],
  },
];

function valuesOf(shop: Shop): FormValues {
  const { settings } = shop;
  const hours = hoursOf(shop);
  return {
    name: shop.name,
    phone: settings.phone ?? '',
    text_name: settings.textName ?? '',
    from_hour: String(hours.fromHour),
    to_hour: String(hours.toHour),
    ...Object.fromEntries((hours.days as readonly number[]).map((day) => [`day_${day}`, 'yes'])),
    promise_days: settings.promiseDays === undefined ? '' : String(settings.promiseDays),
    standard: settings.standard ?? '',
    lab_days: settings.labWindow === undefined ? '' : String(settings.labWindow.days),
    lab_from: settings.labWindow?.from ?? USUAL_LAB_WINDOW.from,
    keep_raw_days: settings.keepRawDays === undefined ? '' : String(settings.keepRawDays),
    local_numbers: (settings.localNumbers ?? []).map(({ who, number }) => `${who}: ${number}`).join('\n'),
    ...Object.fromEntries(
      Object.entries(COSTS).map(([name, { key }]) => [
        name,
        settings.costs?.[key] === undefined ? '' : String(settings.costs[key]),
      ]),
    ),
  };
}

/** A tick that was taken away is not in the form: where the hours were refused, only the ticks that came count. */
const withoutTicks = (values: FormValues): FormValues =>
  values.section === 'hours'
    ? { ...Object.fromEntries([1, 2, 3, 4, 5, 6, 7].map((day) => [`day_${day}`, ''])), ...values }
    : values;

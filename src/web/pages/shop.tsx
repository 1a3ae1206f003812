import type { Context, Hono } from 'hono';
import type { FormValues } from '../../../dashboard/pieces/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { ShopPage } from '../../../dashboard/shop/page.tsx';
import type { ShopView } from '../../../dashboard/shop/view.ts';
import { USUAL_LAB_WINDOW, USUAL_PROMISE_DAYS } from '../../followup/deadlines.ts';
import { COSTS, keepShop, type ShopSection } from '../../followup/keepShop.ts';
import { hoursOf } from '../../followup/openHours.ts';
import { localDay } from '../../followup/planSlots.ts';
import type { Problem } from '../../problems.ts';
import { people, type Shop } from '../../store/shops.ts';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { formValues } from './formValues.ts';

/** Hours, deadlines, costs, local numbers, ways, and the ticks before going live. */
export function shopRoutes(app: Hono<Web>): void {
  app.get('/shop', (c) => page(c));
  app.post('/shop', async (c) => {
    const room = c.get('room');
    const typed = formValues(c);
    const done = await keepShop(room.shell, room.shopId, field(c, 'section'), typed, await personName(room));
    if (!done.ok) return page(c, { values: typed, problems: done.problems });
    return back(c, `/shop#${done.value.section}`, { kind: 'done', text: KEPT[done.value.section] });
  });
}

const KEPT: Readonly<Record<ShopSection, string>> = {
  shop: 'Kept. The next message is signed so.',
  hours: 'Kept. Calls that are asked for are promised by these hours.',
  deadlines: 'Kept. Every deadline counts by it from now on.',
  danger: 'Kept. The caution names these from now on; read it under Letters.',
  costs: 'Kept. What is empty is named and not counted.',
};

type Refused = { readonly values: FormValues; readonly problems: readonly Problem[] };

async function page(c: Context<Web>, refused?: Refused) {
  const room = c.get('room');
  const { shell, shop, now } = await loadShell(c, 'Shop', '/shop');
  const before = await ticksBefore(c, shop, localDay(now, shop.time_zone));
  const carrierOf = (channel: 'text' | 'email') => room.shell.carrier(room.shopId, channel)?.name;
  const view: ShopView = {
    before,
    mayGoLive: before.every((tick) => tick.done),
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
  };
  return c.html(renderDocument(<ShopPage shell={shell} view={view} />), refused ? 400 : 200);
}

const wayWords = (shop: Shop, name: string | undefined): string =>
  name === undefined
    ? 'not switched on: nothing leaves, and what is due is kept back with this reason'
    : shop.kind === 'invented'
      ? 'rehearsal: nothing leaves this machine'
      : `switched on: ${name}`;

async function ticksBefore(c: Context<Web>, shop: Shop, today: string): Promise<ShopView['before']> {
  const room = c.get('room');
  const here = (await people(room.shell.db, room.shopId)).filter((person) => person.active);
  const { settings } = shop;
  return [
    { words: 'The shop’s name and the number that wearers may ring', done: !!settings.phone, href: '#shop' },
    { words: 'Opening hours', done: settings.openHours !== undefined, href: '#hours' },
    {
      words: 'Local help numbers: without them no caution can be sent',
      done: (settings.localNumbers ?? []).length > 0,
      href: '#danger',
    },
    {
      words: 'Someone on call with a number or an address',
      done: here.some((one) => one.on_call_order !== null && (one.phone_e164 !== null || one.email !== null)),
      href: '/people',
    },
    {
      words: 'A licensed person: remakes and notes to prescribers are signed',
      done: here.some((one) => one.licensed_until !== null && one.licensed_until >= today),
      href: '/people',
    },
    {
      words: 'The lab’s remake window, here or in the lens book',
      done: settings.labWindow !== undefined,
      href: '#deadlines',
    },
  ];
}

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
    lab_days: settings.labWindow === undefined ? '' : String(settings.labWindow.days),
    lab_from: settings.labWindow?.from ?? USUAL_LAB_WINDOW.from,
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

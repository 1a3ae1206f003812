import { figureIn } from '../intake/figures.ts';
import { readPhone } from '../intake/phone.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { keepName, keepSettings, lockShop, type Shop } from '../store/shops.ts';
import type { LabTerm, ShopSettings } from '../store/tables.ts';
import { TERM_STARTS } from './keepLab.ts';
import type { Shell } from './shell.ts';
import { STANDARDS } from './toleranceStandard.ts';

/** Parts of the Shop page; each is kept by itself, so that a slip in one does not hold up the others. */
export const SHOP_SECTIONS = ['shop', 'hours', 'deadlines', 'limits', 'danger', 'costs', 'keeping'] as const;
export type ShopSection = (typeof SHOP_SECTIONS)[number];

const LONGEST_TEXT_NAME = 20;
const MOST_LOCAL_NUMBERS = 6;

type Typed = Readonly<Record<string, string>>;
type Changed = { readonly name?: string; readonly settings: ShopSettings };

/** Keeps one part of the shop's settings, checked. An empty field takes what was set away; the usual value then stands. */
export async function keepShop(
  shell: Shell,
  shopId: string,
  sectionTyped: string,
  typed: Typed,
  by: string,
): Promise<Checked<{ section: ShopSection }>> {
  const now = shell.clock.now();
  const section = SHOP_SECTIONS.find((one) => one === sectionTyped);
  if (!section) {
    return bad({
      code: 'shop-section',
      what: `“${sectionTyped}” is no part of the Shop page.`,
      where: 'section',
      mend: 'Open the page again.',
    });
  }
  return shell.db.transaction().execute(async (trx) => {
    const shop = await lockShop(trx, shopId);
    const read = READERS[section](typed, shop);
    if (!read.ok) return read;
    await keepSettings(trx, shopId, read.value.settings);
    if (read.value.name !== undefined) await keepName(trx, shopId, read.value.name);
    await addAudit(
      trx,
      shopId,
      { by, act: `shop set: ${section}`, subject: shopId, detail: read.value },
      now,
    );
    return good({ section });
  });
}

const READERS: Readonly<Record<ShopSection, (typed: Typed, shop: Shop) => Checked<Changed>>> = {
  shop(typed, { settings, country }) {
    const problems: Problem[] = [];
    const name = (typed.name ?? '').trim().replace(/\s+/g, ' ');
    if (name === '' || name.length > 80)
      problems.push(
        trouble(
          'name',
          'The shop’s name is missing or too long.',
          'Write 1 to 80 letters, as wearers know it.',
        ),
      );
    const phone = (typed.phone ?? '').trim();
    if (phone !== '') {
      const read = readPhone(phone, country);
      if (!read.ok) problems.push(...read.problems);
    }
    const textName = (typed.text_name ?? '').trim();
    if (textName.length > LONGEST_TEXT_NAME)
      problems.push(
        trouble(
          'text_name',
          `That is ${textName.length} letters.`,
          `Write at most ${LONGEST_TEXT_NAME}; up to 15 keep most texts in one part.`,
        ),
      );
    if (problems.length > 0) return bad(...problems);
    const { phone: _phone, textName: _name, ...others } = settings;
    return good({
      name,
      settings: { ...others, ...(phone === '' ? {} : { phone }), ...(textName === '' ? {} : { textName }) },
    });
  },

  hours(typed, { settings }) {
    const problems: Problem[] = [];
    const fromHour = wholeIn(typed.from_hour, 0, 23);
    const toHour = wholeIn(typed.to_hour, 1, 24);
    const days = [1, 2, 3, 4, 5, 6, 7].filter((day) => typed[`day_${day}`] === 'yes');
    if (fromHour === undefined)
      problems.push(trouble('from_hour', 'That is no full hour.', 'Write 0 to 23.'));
    if (toHour === undefined) problems.push(trouble('to_hour', 'That is no full hour.', 'Write 1 to 24.'));
    if (fromHour !== undefined && toHour !== undefined && toHour <= fromHour)
      problems.push(trouble('to_hour', 'The shop would close before it opens.', 'Mend one of the two.'));
    if (days.length === 0)
      problems.push(trouble('from_hour', 'The shop would never be open.', 'Tick the days on which it is.'));
    if (problems.length > 0) return bad(...problems);
    return good({ settings: { ...settings, openHours: { fromHour: fromHour!, toHour: toHour!, days } } });
  },

  deadlines(typed, { settings }) {
    const problems: Problem[] = [];
    const promise = optionalWhole(typed.promise_days, 7, 365);
    const days = optionalWhole(typed.lab_days, 1, 1095);
    const from = TERM_STARTS.find((one) => one === (typed.lab_from || 'lab invoiced'));
    if (promise === 'refused')
      problems.push(
        trouble('promise_days', 'That is no number of days.', 'Write 7 to 365, or leave it empty for 30.'),
      );
    if (days === 'refused')
      problems.push(
        trouble('lab_days', 'That is no number of days.', 'Write 1 to 1095, or leave it empty for 60.'),
      );
    if (!from) problems.push(trouble('lab_from', 'That is no day to count from.', 'Choose one of the list.'));
    if (problems.length > 0) return bad(...problems);
    const { promiseDays: _promise, labWindow: _window, ...others } = settings;
    return good({
      settings: {
        ...others,
        ...(typeof promise === 'number' ? { promiseDays: promise } : {}),
        ...(typeof days === 'number' ? { labWindow: { days, from: from as LabTerm['from'] } } : {}),
      },
    });
  },

  danger(typed, { settings }) {
    const lines = (typed.local_numbers ?? '')
      .split(/\r?\n/)
      .map((line) => line.trim())
      .filter((line) => line !== '');
    const problems: Problem[] = [];
    const localNumbers = lines.flatMap((line) => {
      const found = /^(.{1,40}?)\s*[:：]\s*(\+?[\d\s().-]{3,24})$/.exec(line);
      const digits = found?.[2]?.replace(/\D/g, '').length ?? 0;
      if (found && digits >= 3 && digits <= 15) return [{ who: found[1]!.trim(), number: found[2]!.trim() }];
      problems.push(
        trouble(
          'local_numbers',
          `“${line.slice(0, 60)}” is not read.`,
          'Write each on a line of its own, as who: number.',
        ),
      );
      return [];
    });
    if (lines.length > MOST_LOCAL_NUMBERS)
      problems.push(
        trouble(
          'local_numbers',
          `${lines.length} are too many for one text.`,
          `Keep the ${MOST_LOCAL_NUMBERS} that matter most.`,
        ),
      );
    return problems.length > 0 ? bad(...problems) : good({ settings: { ...settings, localNumbers } });
  },

  limits(typed, { settings }) {
    const chosen = (typed.standard ?? '').trim();
    const standard = STANDARDS.find((one) => one === chosen);
    if (chosen !== '' && !standard)
      return bad(trouble('standard', `“${chosen.slice(0, 30)}” is not read.`, 'Choose one of the list.'));
    const { standard: _standard, ...others } = settings;
    return good({ settings: { ...others, ...(standard ? { standard } : {}) } });
  },

  keeping(typed, { settings }) {
    const days = optionalWhole(typed.keep_raw_days, LEAST_RAW_DAYS, MOST_RAW_DAYS);
    if (days === 'refused')
      return bad(
        trouble(
          'keep_raw_days',
          'That is no number of days.',
          `Write ${LEAST_RAW_DAYS} to ${MOST_RAW_DAYS}, or leave it empty for the usual.`,
        ),
      );
    const { keepRawDays: _days, ...others } = settings;
    return good({ settings: { ...others, ...(typeof days === 'number' ? { keepRawDays: days } : {}) } });
  },

  costs(typed, { settings }) {
    const problems: Problem[] = [];
    const costs = Object.fromEntries(
      Object.entries(COSTS).flatMap(([field, { key, most }]) => {
        const text = (typed[field] ?? '').trim();
        if (text === '') return [];
        const figure = figureIn(text.replace(/^[^\d.,+-]+/, ''));
        if (figure !== undefined && figure >= 0 && figure <= most) return [[key, figure]];
        problems.push(
          trouble(
            field,
            `“${text.slice(0, 30)}” is not read.`,
            `Write a number from 0 to ${most}, or leave it empty: then it is named and not counted.`,
          ),
        );
        return [];
      }),
    );
    return problems.length > 0 ? bad(...problems) : good({ settings: { ...settings, costs } });
  },
};

const LEAST_RAW_DAYS = 90;
const MOST_RAW_DAYS = 3650;

export const COSTS = {
  lenses_per_remake: { key: 'lensesPerRemake', most: 5000 },
  staff_hours_per_return: { key: 'staffHoursPerReturn', most: 40 },
  staff_cost_per_hour: { key: 'staffCostPerHour', most: 1000 },
  postage_per_return: { key: 'postagePerReturn', most: 1000 },
} as const satisfies Record<string, { key: keyof NonNullable<ShopSettings['costs']>; most: number }>;

const trouble = (where: string, what: string, mend: string): Problem => ({
  code: `shop-${where.replaceAll('_', '-')}`,
  what,
  where,
  mend,
});

function wholeIn(text: string | undefined, least: number, most: number): number | undefined {
  const figure = figureIn((text ?? '').replace(/:00$/, ''));
  return figure !== undefined && Number.isInteger(figure) && figure >= least && figure <= most
    ? figure
    : undefined;
}

function optionalWhole(text: string | undefined, least: number, most: number): number | 'empty' | 'refused' {
  if ((text ?? '').trim() === '') return 'empty';
  return wholeIn(text, least, most) ?? 'refused';
}

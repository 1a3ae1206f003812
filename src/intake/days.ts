import { bareText } from './bareText.ts';
import { type Reading, read, refused, shortened } from './cells.ts';

/** The order in which a file writes day, month and year. ISO days (2026-11-03) are read under every order. */
export type DateOrder = 'dmy' | 'mdy' | 'ymd';

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const OLDEST_YEARS = 20;

/**
 * Reads a calendar day as YYYY-MM-DD. A day that can be read two ways ("03/04/2026") needs a declared order; a month by
 * name and a number above 12 need none. Two-digit years are of this century. `today` (YYYY-MM-DD) is the last day
 * allowed: everything that a job tells has happened.
 */
export function readDay(input: string, order: DateOrder | undefined, today: string): Reading<string> {
  const text = bareText(input);
  const parts = partsOf(text, order);
  if (!parts.ok) return parts;
  const { year, month, day } = parts.value;
  if (month < 1 || month > 12 || day < 1 || day > daysIn(year, month)) {
    return refused(
      'date-impossible',
      `“${shortened(text)}” is no day of the calendar${order ? ` read as ${ORDER_WORDS[order]}` : ''}.`,
      'a day of the calendar',
      'Write it as year-month-day, for example 2026-11-03, or declare another order of dates.',
    );
  }
  const iso = `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;
  if (iso > today) {
    return refused(
      'date-in-future',
      `${iso} has not come yet (today is ${today}).`,
      `a day up to ${today}`,
      'Leave the cell empty until it has happened, or mend the date.',
    );
  }
  const oldest = Number(today.slice(0, 4)) - OLDEST_YEARS;
  if (year < oldest) {
    return refused(
      'date-too-old',
      `${iso} is more than ${OLDEST_YEARS} years ago.`,
      `${oldest} or later`,
      'Mend the year.',
    );
  }
  return read(iso);
}

type Parts = { readonly year: number; readonly month: number; readonly day: number };

const ORDER_WORDS: Readonly<Record<DateOrder, string>> = {
  dmy: 'day, month, year',
  mdy: 'month, day, year',
  ymd: 'year, month, day',
};

function partsOf(text: string, order: DateOrder | undefined): Reading<Parts> {
  // A time behind the day, as exports write it, says nothing about a calendar day and is dropped.
  const bare = text.replace(/[T ]+\d{1,2}:\d{2}(:\d{2}(\.\d+)?)? ?(z|[ap]m)?$/i, '').trim();
  const yearFirst =
    /^(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})$/.exec(bare) ?? /^(\d{4})(\d{2})(\d{2})$/.exec(bare);
  if (yearFirst)
    return read({ year: Number(yearFirst[1]), month: Number(yearFirst[2]), day: Number(yearFirst[3]) });
  const named = byMonthName(bare);
  if (named) return read(named);
  const three = /^(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4}|\d{2})$/.exec(bare);
  if (three) return byOrder([three[1]!, three[2]!, three[3]!], order, bare);
  if (/^\d{5}$/.test(bare)) {
    return refused(
      'date-is-a-day-number',
      `“${bare}” is a spreadsheet’s count of days, not a date.`,
      'a date such as 2026-11-03',
      'Format the column as a date in the spreadsheet, year first, and save the file again.',
    );
  }
  return refused(
    'date-unread',
    `“${shortened(text)}” is not read as a date.`,
    'a date such as 2026-11-03',
    'Write it as year-month-day, for example 2026-11-03.',
  );
}

function byOrder(
  written: readonly [string, string, string],
  order: DateOrder | undefined,
  text: string,
): Reading<Parts> {
  const [a, b, c] = [Number(written[0]), Number(written[1]), Number(written[2])];
  const lastIsYear = written[2].length === 4;
  if (order === 'ymd' && !lastIsYear) return read({ year: 2000 + a, month: b, day: c });
  const year = lastIsYear ? c : 2000 + c;
  if (order === 'dmy') return read({ year, month: b, day: a });
  if (order === 'mdy') return read({ year, month: a, day: b });
  if (lastIsYear && a > 12 && b <= 12) return read({ year, month: b, day: a });
  if (lastIsYear && b > 12 && a <= 12) return read({ year, month: a, day: b });
  if (lastIsYear && a === b) return read({ year, month: a, day: b });
  return refused(
    'date-ambiguous',
    `“${text}” can be read in more than one way.`,
    'a date such as 2026-11-03, or a declared order of dates',
    'Say in which order this file writes dates (day first or month first), or write them year first.',
  );
}

function byMonthName(text: string): Parts | undefined {
  const dayFirst = /^(\d{1,2})[-/. ]*(\p{L}{3,9})\.?[-/., ]*(\d{4}|\d{2})$/u.exec(text);
  const monthFirst = /^(\p{L}{3,9})\.? *(\d{1,2})(?:st|nd|rd|th)?,? +(\d{4})$/u.exec(text);
  const [dayText, name, yearText] = dayFirst
    ? [dayFirst[1], dayFirst[2], dayFirst[3]]
    : monthFirst
      ? [monthFirst[2], monthFirst[1], monthFirst[3]]
      : [undefined, undefined, undefined];
  if (dayText === undefined || name === undefined || yearText === undefined) return undefined;
  const month = MONTHS.indexOf(name.slice(0, 3).toLowerCase()) + 1;
  if (month === 0) return undefined;
  return {
    year: yearText.length === 4 ? Number(yearText) : 2000 + Number(yearText),
    month,
    day: Number(dayText),
  };
}

/** Days of a month in the Gregorian calendar. */
function daysIn(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

const two = (number: number) => String(number).padStart(2, '0');

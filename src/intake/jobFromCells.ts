import type { Problem } from '../problems.ts';
import { bareText } from './bareText.ts';
import {
  type Cell,
  type CellProblem,
  type Cells,
  cellProblem,
  type Reading,
  type Refusal,
  shortened,
} from './cells.ts';
import { readCountry } from './countries.ts';
import { type DateOrder, readDay } from './days.ts';
import { readEmail, reservedEmail } from './emailAddress.ts';
import { factsFromCells } from './factsFromCells.ts';
import type { ContactChannel, JobConsent, JobDates, JobWearer, ValidJob } from './job.ts';
import { type Phone, readPhone, reservedForFiction } from './phone.ts';
import { quantityOf } from './quantities.ts';
import { readChoice, readConsent, readYesNo } from './words.ts';
import { readZone } from './zones.ts';

export type IntakeOptions = {
  /** In which order the file writes dates; left out: only dates that can be read one way are taken. */
  readonly dateOrder?: DateOrder;
  /** The shop's country, ISO 3166-1 alpha-2: for phone numbers without country code and wearers without country. */
  readonly country: string;
  /** True in the invented shop, where only numbers and addresses that reach nobody are taken. */
  readonly invented: boolean;
  /** The shop's calendar day, YYYY-MM-DD. */
  readonly today: string;
  /** Language of wearers whose line says none. */
  readonly locale?: string;
};

type ReadJob = { readonly job: ValidJob; readonly warnings: readonly string[] };
export type JobReading =
  | { readonly ok: true; readonly value: ReadJob }
  | { readonly ok: false; readonly problems: readonly CellProblem[] };

const LONGEST_CELL = 1000;

/**
 * One job from the cells of a line or form. All problems are told at once. `where` names the line ("line 12");
 * `numbersKept` says whether this file has job numbers at all: where it has none, they are made of wearer, design and
 * date, where it has, an empty one is refused.
 */
export function jobFromCells(
  cells: Cells,
  options: IntakeOptions,
  where: string,
  numbersKept: boolean,
): JobReading {
  const problems: CellProblem[] = [];
  const warnings: string[] = [];
  const refuse = (refusal: Refusal, cell: Cell) => problems.push(cellProblem(refusal, cell, where));
  const take = <T>(key: string, reader: (text: string) => Reading<T>): T | undefined => {
    const cell = cells.get(key);
    if (!cell || bareText(cell.text) === '') return undefined;
    const reading = reader(cell.text);
    if (reading.ok) return reading.value;
    refuse(reading.refusal, cell);
    return undefined;
  };
  for (const cell of cells.values()) {
    if (cell.text.length > LONGEST_CELL) refuse(tooLong(cell.text, LONGEST_CELL), cell);
  }
  if (problems.length > 0) return { ok: false, problems };

  const text = (key: string) => take(key, (written) => readWords(written, quantityOf(key)?.longest ?? 200));
  const require = (key: string, code: string, mend: string) => {
    const cell = cells.get(key);
    if (cell && bareText(cell.text) !== '') return;
    const head = quantityOf(key)?.head ?? key;
    refuse(
      { code, what: `The ${head} is missing.`, allowed: 'not empty', mend },
      cell ?? { text: '', field: key, column: `column “${head}”` },
    );
  };

  require('name', 'name-missing', 'Write the wearer’s name.');
  require('lens_design', 'design-missing', 'Write which lens was ordered, as it stands in the lens book.');
  if (numbersKept) {
    require('job_number', 'job-number-missing', 'Write the shop’s own number of this job; leave the whole column out if the shop keeps none.');
  }
  const writtenNumber = take('job_number', readJobNumber);
  const name = take('name', readName);
  const lensDesign = text('lens_design');
  const country = take('country', readCountry) ?? options.country.toUpperCase();
  const contact = readContact(cells, { ...options, country }, where, problems, warnings);
  const consentWords = take('consent', readConsent) ?? { channels: [], phoneOnly: false };
  const firstMultifocal = take('first_multifocal', readYesNo);
  const dates = readDates(cells, options, take, where, problems);
  const zone = take('zone', (written) => asReading(readZone(written), 'an IANA zone name'));
  const region = text('region');
  const postcode = text('postcode');
  const locale = take('locale', readLocale) ?? options.locale ?? 'en';
  const prefersWritten = take('prefers', (written) => readChoice(written, quantityOf('prefers')!));
  const wayWritten = take('way', (written) => readChoice(written, quantityOf('way')!));
  const lab = text('lab');
  const soldBy = text('sold_by');
  const birthYear = take('birth_year', (written) => readBirthYear(written, options.today));
  const { facts, problems: factProblems } = factsFromCells(cells, where);
  problems.push(...factProblems);

  const jobNumber = writtenNumber ?? madeNumber(name, lensDesign, dates);
  if (!numbersKept && jobNumber === undefined && name !== undefined && lensDesign !== undefined) {
    refuse(
      {
        code: 'job-number-unmade',
        what: 'Without a job number, a job is told apart by wearer, design and date, and there is no date.',
        allowed: 'a job number, or the day of order or hand-over',
        mend: 'Write a job number, or the day on which the lenses were ordered or handed over.',
      },
      cells.get('handed_over_on') ?? { text: '', field: 'handed_over_on', column: 'column “handed over on”' },
    );
  }
  if (problems.length > 0 || jobNumber === undefined || name === undefined || lensDesign === undefined) {
    return { ok: false, problems };
  }

  const consentCell = cells.get('consent');
  const reachable = consentWords.channels.filter((channel) =>
    channel === 'text' ? contact.phone?.textable === true : contact.email !== undefined,
  );
  const consent: JobConsent = {
    given: consentWords.channels.length > 0,
    channels: reachable,
    basis: consentBasis(consentCell, where),
  };
  const prefers = prefersOf(prefersWritten, consentWords.phoneOnly, reachable, contact.phone !== undefined);
  const neverMessaged = whyNeverMessaged(contact, consent);
  const wearer: JobWearer = {
    name,
    ...(contact.phone ? { phoneE164: contact.phone.e164 } : {}),
    ...(contact.email === undefined ? {} : { email: contact.email }),
    prefers,
    locale,
    ...(zone === undefined ? {} : { zone }),
    country,
    ...(region === undefined ? {} : { region }),
    ...(postcode === undefined ? {} : { postcode }),
    ...(birthYear === undefined ? {} : { birthYear }),
  };
  const posted = dates.postedOn !== undefined || dates.arrivedOn !== undefined;
  const way =
    wayWritten === 'post' || (wayWritten === undefined && posted && !dates.handedOverOn) ? 'post' : 'counter';
  const job: ValidJob = {
    jobNumber,
    wearer,
    consent,
    ...(neverMessaged ? { neverMessaged } : {}),
    way,
    dates,
    lensDesign,
    ...(firstMultifocal === undefined ? {} : { firstMultifocal }),
    ...(lab === undefined ? {} : { lab }),
    ...(soldBy === undefined ? {} : { soldBy }),
    facts,
  };
  return { ok: true, value: { job, warnings } };
}

type Contact = { readonly phone?: Phone; readonly email?: string };

function readContact(
  cells: Cells,
  options: IntakeOptions,
  where: string,
  problems: CellProblem[],
  warnings: string[],
): Contact {
  const phoneCell = cells.get('phone');
  const emailCell = cells.get('email');
  let phone: Phone | undefined;
  let email: string | undefined;
  if (phoneCell && bareText(phoneCell.text) !== '') {
    const reading = readPhone(phoneCell.text, options.country);
    if (!reading.ok)
      problems.push(
        ...reading.problems.map((problem) => told(problem, 'one phone number', phoneCell, where)),
      );
    else if (options.invented && !reservedForFiction(reading.value.e164)) {
      problems.push(
        cellProblem(
          {
            code: 'phone-real',
            what: `${reading.value.e164} may belong to somebody; the invented shop never holds such a number.`,
            allowed: 'a number set aside for fiction, for example +1 212 555 0123 or +44 7700 900123',
            mend: 'Write a number set aside for fiction, or take the job in at your own shop.',
          },
          phoneCell,
          where,
        ),
      );
    } else {
      phone = reading.value;
      if (phone.warning) warnings.push(phone.warning);
      if (!phone.textable) warnings.push(`${phone.e164} cannot take a text; it is kept for ringing.`);
    }
  }
  if (emailCell && bareText(emailCell.text) !== '') {
    const reading = readEmail(emailCell.text);
    if (!reading.ok)
      problems.push(
        ...reading.problems.map((problem) => told(problem, 'one email address', emailCell, where)),
      );
    else if (options.invented && !reservedEmail(reading.value)) {
      problems.push(
        cellProblem(
          {
            code: 'email-real',
            what: 'This address may belong to somebody; the invented shop never holds such an address.',
            allowed: 'an address at example.com, example.net, example.org, or under .example or .test',
            mend: 'Write an address at example.com, or take the job in at your own shop.',
          },
          emailCell,
          where,
        ),
      );
    } else email = reading.value;
  }
  return { ...(phone ? { phone } : {}), ...(email === undefined ? {} : { email }) };
}

const DATE_KEYS = [
  ['ordered_on', 'orderedOn'],
  ['lab_invoiced_on', 'labInvoicedOn'],
  ['received_on', 'receivedOn'],
  ['posted_on', 'postedOn'],
  ['handed_over_on', 'handedOverOn'],
  ['arrived_on', 'arrivedOn'],
  ['first_worn_on', 'firstWornOn'],
] as const;

/** Pairs of days of which the first cannot come after the second. */
const DATE_SEQUENCE: readonly (readonly [keyof JobDates, keyof JobDates])[] = [
  ['orderedOn', 'receivedOn'],
  ['orderedOn', 'postedOn'],
  ['orderedOn', 'handedOverOn'],
  ['receivedOn', 'handedOverOn'],
  ['receivedOn', 'postedOn'],
  ['postedOn', 'arrivedOn'],
  ['handedOverOn', 'firstWornOn'],
  ['arrivedOn', 'firstWornOn'],
  ['postedOn', 'firstWornOn'],
];

function readDates(
  cells: Cells,
  options: IntakeOptions,
  take: (key: string, reader: (text: string) => Reading<string>) => string | undefined,
  where: string,
  problems: CellProblem[],
): JobDates {
  const dates: { -readonly [Key in keyof JobDates]: JobDates[Key] } = {};
  for (const [key, name] of DATE_KEYS) {
    const day = take(key, (text) => readDay(text, options.dateOrder, options.today));
    if (day !== undefined) dates[name] = day;
  }
  const headOf = (name: keyof JobDates) => quantityOf(DATE_KEYS.find(([, key]) => key === name)![0])!;
  for (const [earlier, later] of DATE_SEQUENCE) {
    const [first, second] = [dates[earlier], dates[later]];
    const quantity = headOf(later);
    const cell = cells.get(quantity.key);
    if (first !== undefined && second !== undefined && cell && second < first) {
      problems.push(
        cellProblem(
          {
            code: 'dates-out-of-order',
            what: `“${quantity.head}” (${second}) is before “${headOf(earlier).head}” (${first}).`,
            allowed: `${first} or later`,
            mend: 'Mend the one that is wrong; look whether day and month changed places.',
          },
          cell,
          where,
        ),
      );
    }
  }
  return dates;
}

function readName(written: string): Reading<string> {
  const reading = readWords(written, 200);
  if (!reading.ok || /\p{L}/u.test(reading.value)) return reading;
  return {
    ok: false,
    refusal: {
      code: 'name-without-letters',
      what: `“${shortened(written)}” has no letter.`,
      allowed: 'a name',
      mend: 'Write the wearer’s name; look whether columns are shifted.',
    },
  };
}

function readJobNumber(written: string): Reading<string> {
  const reading = readWords(written, 60);
  if (!reading.ok || !/^\d([.,]\d+)?E\+\d+$/i.test(reading.value)) return reading;
  return {
    ok: false,
    refusal: {
      code: 'job-number-mangled',
      what: `“${shortened(written)}” is what a spreadsheet makes of a long number.`,
      allowed: 'the number as the shop wrote it',
      mend: 'Format the column as text in the spreadsheet and write the number again.',
    },
  };
}

/** Words of a person: kept as written but for spaces at the ends; signs that cannot be seen are refused. */
function readWords(written: string, longest: number): Reading<string> {
  const text = written.trim();
  if (text.length > longest) return { ok: false, refusal: tooLong(text, longest) };
  if (/[\r\n]/.test(text)) {
    return {
      ok: false,
      refusal: {
        code: 'cell-over-lines',
        what: 'The cell runs over several lines.',
        allowed: 'letters, digits and punctuation on one line',
        mend: 'Write it on one line; look whether a quotation mark is missing and the next line ran into this one.',
      },
    };
  }
  if (/\p{Cc}|\ufffd/u.test(text)) {
    return {
      ok: false,
      refusal: {
        code: 'control-signs',
        what: `“${shortened(text)}” holds signs that cannot be printed.`,
        allowed: 'letters, digits and punctuation on one line',
        mend: 'Write it again by hand; if many lines are so, save the file as CSV UTF-8.',
      },
    };
  }
  return { ok: true, value: text.replace(/\s+/g, ' ').normalize('NFC') };
}

function readLocale(written: string): Reading<string> {
  const found = /^([a-z]{2,3})(?:[-_]([a-z]{2}))?$/i.exec(bareText(written));
  const [, language, region] = found ?? [];
  if (language)
    return {
      ok: true,
      value: region ? `${language.toLowerCase()}-${region.toUpperCase()}` : language.toLowerCase(),
    };
  const named = { english: 'en', spanish: 'es', español: 'es' }[bareText(written).toLowerCase()];
  if (named !== undefined) return { ok: true, value: named };
  return {
    ok: false,
    refusal: {
      code: 'language-unknown',
      what: `“${shortened(written)}” is no language code.`,
      allowed: 'two letters such as en or es',
      mend: 'Write en or es, or leave the cell empty.',
    },
  };
}

function readBirthYear(written: string, today: string): Reading<number> {
  const year = /^\d{4}$/.test(bareText(written)) ? Number(bareText(written)) : undefined;
  const latest = Number(today.slice(0, 4)) - 5;
  if (year !== undefined && year >= 1900 && year <= latest) return { ok: true, value: year };
  return {
    ok: false,
    refusal: {
      code: 'birth-year-impossible',
      what: `“${shortened(written)}” is no year of birth.`,
      allowed: `a year from 1900 to ${latest}`,
      mend: 'Write the year with four digits, without day and month.',
    },
  };
}

function madeNumber(
  name: string | undefined,
  design: string | undefined,
  dates: JobDates,
): string | undefined {
  const day = dates.orderedOn ?? dates.handedOverOn ?? dates.postedOn;
  if (name === undefined || design === undefined || day === undefined) return undefined;
  return `${name} / ${design} / ${day}`;
}

const tooLong = (text: string, longest: number): Refusal => ({
  code: 'too-long',
  what: `The cell holds ${text.length} characters.`,
  allowed: `at most ${longest} characters`,
  mend: 'Shorten it; look whether a quotation mark is missing and columns ran together.',
});

const told = (problem: Problem, allowed: string, cell: Cell, where: string) =>
  cellProblem({ code: problem.code, what: problem.what, allowed, mend: problem.mend }, cell, where);

function asReading<T>(
  checked: { ok: true; value: T } | { ok: false; problems: readonly Problem[] },
  allowed: string,
): Reading<T> {
  if (checked.ok) return checked;
  const [problem] = checked.problems;
  return { ok: false, refusal: { code: problem!.code, what: problem!.what, allowed, mend: problem!.mend } };
}

function consentBasis(cell: Cell | undefined, where: string): string {
  if (!cell) return `${where}: nothing is said about consent`;
  const words = bareText(cell.text);
  return words === '' ? `${cell.column} is empty` : `${cell.column} says “${shortened(words)}”`;
}

function prefersOf(
  written: string | undefined,
  phoneOnly: boolean,
  reachable: readonly ContactChannel[],
  hasPhone: boolean,
): JobWearer['prefers'] {
  if (written === 'text' || written === 'email' || written === 'phone') return written;
  if (phoneOnly) return 'phone';
  return reachable[0] ?? (hasPhone ? 'phone' : 'text');
}

function whyNeverMessaged(contact: Contact, consent: JobConsent): ValidJob['neverMessaged'] {
  if (!contact.phone && contact.email === undefined) return 'no contact';
  if (!consent.given) return 'no consent';
  return consent.channels.length === 0 ? 'no contact' : undefined;
}

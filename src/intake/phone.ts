import { type CountryCode, isSupportedCountry, parsePhoneNumberFromString } from 'libphonenumber-js/max';
import { bad, type Checked, good } from '../problems.ts';
import { bareText } from './bareText.ts';

export type Phone = {
  /** ITU-T E.164: plus sign, country code, at most 15 digits in all. */
  readonly e164: string;
  readonly ext?: string;
  /** Kind of line by the numbering plan; in North America it cannot tell a mobile from a fixed line. */
  readonly type?: string;
  /** False where a text cannot arrive: fixed lines, toll-free and premium numbers, anything with an extension. */
  readonly textable: boolean;
  /** False where the numbering plan has not given out this number: taken in all the same, with a warning. */
  readonly valid: boolean;
  readonly warning?: string;
};

const NEVER_TEXTABLE = new Set([
  'FIXED_LINE',
  'TOLL_FREE',
  'PREMIUM_RATE',
  'SHARED_COST',
  'PAGER',
  'UAN',
  'VOICEMAIL',
]);

/**
 * Reads a phone number as people write it. `defaultRegion` (ISO 3166-1 alpha-2) is the shop's country, used where no
 * country code is written. Accepts what is possible by length; a number the plan has not given out (Ofcom's drama
 * range is one) brings a mild warning only. Source: ITU-T E.164 (from memory); numbering plans by libphonenumber-js.
 */
export function readPhone(input: string, defaultRegion: string, where = 'phone'): Checked<Phone> {
  const text = bareText(input);
  const refuse = (code: string, what: string, mend: string) => bad({ code, what, where, mend });
  if (text === '') return refuse('phone-missing', 'No phone number is written.', 'Write the number.');
  if (/^\d([.,]\d+)?E\+?\d+$/i.test(text)) {
    return refuse(
      'phone-mangled',
      `“${shown(text)}” is what a spreadsheet makes of a long number.`,
      'Format the column as text in the spreadsheet and write the number again.',
    );
  }
  if (holdsTwoNumbers(text)) {
    return refuse(
      'phone-two',
      `“${shown(text)}” holds more than one number.`,
      'Leave one number in the cell.',
    );
  }
  const region = defaultRegion.toUpperCase();
  const found = parsePhoneNumberFromString(text, {
    extract: false,
    ...(isSupportedCountry(region) ? { defaultCountry: region as CountryCode } : {}),
  });
  if (!found?.isPossible()) {
    return refuse(
      'phone-impossible',
      `“${shown(text)}” cannot be a phone number${found ? ` in ${found.country ?? 'any country'}` : ''}.`,
      'Write all digits with the area code, or begin with + and the country code; digits only, no letters.',
    );
  }
  const valid = found.isValid();
  const type = found.getType();
  const ext = found.ext;
  return good({
    e164: found.number,
    ...(ext ? { ext } : {}),
    ...(type ? { type } : {}),
    textable: !ext && !(type && NEVER_TEXTABLE.has(type)),
    valid,
    ...(valid
      ? {}
      : { warning: `${found.number} is long enough but not a number that has been given out: look again.` }),
  });
}

/** The kind of line of an E.164 number, and whether a text can arrive there. */
export function phoneType(e164: string): { readonly type: string | undefined; readonly textable: boolean } {
  const type = parsePhoneNumberFromString(e164)?.getType();
  return { type, textable: !(type && NEVER_TEXTABLE.has(type)) };
}

/**
 * Numbers set aside for stories and tests, which reach nobody: North America 555-0100 to 0199 in any area code; UK
 * mobile 07700 900000 to 900999 and the drama blocks of UK towns (Ofcom); Australia's list (ACMA, from memory).
 */
export function reservedForFiction(e164: string): boolean {
  return RESERVED.some((pattern) => pattern.test(e164));
}

const RESERVED: readonly RegExp[] = [
  /^\+1[2-9]\d{2}55501\d{2}$/,
  /^\+447700900\d{3}$/,
  // Ofcom, numbers for use in TV and radio drama programmes (from memory): London, no area, freephone, premium.
  /^\+442079460\d{3}$/,
  /^\+441632960\d{3}$/,
  /^\+448081570\d{3}$/,
  /^\+449098790\d{3}$/,
  // The towns 011x and 01x1: 0113, 0114, 0115, 0116, 0117, 0118, 0121, 0131, 0141, 0151, 0161 and 0191, 029 (from memory).
  /^\+44(11[3-8]|1[2-6]1)4960\d{3}$/,
  /^\+441914980\d{3}$/,
  /^\+442896496\d{3}$/,
  /^\+442920180\d{3}$/,
  // ACMA, phone numbers for use in TV shows, films and creative works (from memory).
  /^\+61491570(006|156|157|158|159|110|313|737)$/,
  /^\+6149157(1266|1491|1804|2549|2665|2983|3770|3087|4118|4632|5254|5789|6398|6801|7426|7644|8957|8148|8888|9212|9760|9455)$/,
  /^\+61[2378](5550|7010)\d{4}$/,
];

function holdsTwoNumbers(text: string): boolean {
  const parts = text.split(/[/;,|\n]|\bor\b|\band\b|&/i);
  return parts.filter((part) => part.replace(/\D/g, '').length >= 6).length > 1;
}

const shown = (text: string) => (text.length > 40 ? `${text.slice(0, 40)}…` : text);

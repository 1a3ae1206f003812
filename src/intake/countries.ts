import { bareText } from './bareText.ts';
import { type Reading, read, refused, shortened } from './cells.ts';
import { COUNTRY_ZONES } from './zonesOfCountries.ts';

/** Reads a country: ISO 3166-1 alpha-2, its English name, or a usual short form. Returns the two letters. */
export function readCountry(input: string): Reading<string> {
  const text = bareText(input);
  const code = text.toUpperCase();
  if (Object.hasOwn(COUNTRY_ZONES, code)) return read(code);
  const word = text.toLowerCase().replace(/[.]/g, '').replace(/^the /, '');
  const found = SHORT_FORMS.get(word) ?? names().get(word);
  if (found !== undefined) return read(found);
  return refused(
    'country-unknown',
    `“${shortened(text)}” is no country that is known here.`,
    'two letters (ISO 3166), for example US, GB, CA',
    'Write the two letters of the country.',
  );
}

const SHORT_FORMS: ReadonlyMap<string, string> = new Map([
  ['usa', 'US'],
  ['united states of america', 'US'],
  ['america', 'US'],
  ['uk', 'GB'],
  ['great britain', 'GB'],
  ['england', 'GB'],
  ['scotland', 'GB'],
  ['wales', 'GB'],
  ['northern ireland', 'GB'],
  ['republic of ireland', 'IE'],
  ['eire', 'IE'],
  ['holland', 'NL'],
  ['españa', 'ES'],
  ['méxico', 'MX'],
]);

let englishNames: ReadonlyMap<string, string> | undefined;

/** English names by the runtime's CLDR data, made once when first asked for. */
function names(): ReadonlyMap<string, string> {
  if (!englishNames) {
    const display = new Intl.DisplayNames('en', { type: 'region' });
    englishNames = new Map(
      Object.keys(COUNTRY_ZONES).map((code) => [(display.of(code) ?? code).toLowerCase(), code]),
    );
  }
  return englishNames;
}

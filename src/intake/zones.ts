import { bad, type Checked, good } from '../problems.ts';
import { bareText } from './bareText.ts';
import type { RegionTable } from './regionTable.ts';
import { RENAMED_ZONES, WHOLE_COUNTRY_NAMES } from './zoneNames.ts';
import { CANADA } from './zonesCanada.ts';
import { COUNTRY_ZONES } from './zonesOfCountries.ts';
import { AUSTRALIA, MEXICO, NEW_ZEALAND, SPAIN } from './zonesOtherCountries.ts';
import { UNITED_STATES } from './zonesUnitedStates.ts';

/**
 * Reads a time zone by its IANA name ("America/Chicago"; old names such as "US/Central" are kept and mean the same).
 * Refused: display names of desktop systems, abbreviations (EST is read as Panama, which has no summer time), offsets,
 * and Etc/GMT zones, whose sign is the other way about. Source: IANA tz database, by the runtime's Intl (ECMA-402).
 */
export function readZone(name: string, where = 'zone'): Checked<string> {
  const text = bareText(name);
  const shown = text.length > 40 ? `${text.slice(0, 40)}…` : text;
  const refuse = (what: string) =>
    bad({
      code: 'zone-unknown',
      what,
      where,
      mend: 'Write the IANA name of a city in that zone, for example America/New_York or Europe/London.',
    });
  if (/^(etc\/)?(gmt|utc)[+-]\d/i.test(text) || /^[+-]?\d/.test(text)) {
    return refuse(`“${shown}” is an offset: it knows no summer time.`);
  }
  const isPlace = text.includes('/') && !/^(etc|systemv)\//i.test(text);
  if (!isPlace && !WHOLE_COUNTRY_NAMES.has(text) && !/^(etc\/)?utc$/i.test(text)) {
    return refuse(
      `“${shown}” is no IANA zone name; abbreviations and display names do not say which rules hold.`,
    );
  }
  const resolved = resolve(text);
  if (resolved === undefined) return refuse(`“${shown}” is not in the IANA list.`);
  return good(/^[A-Z]/.test(text) ? text : canonicalZone(text));
}

/** The name that IANA gives to a zone today: links are followed, and old spellings that ECMA-402 keeps are renewed. */
export function canonicalZone(zone: string): string {
  const resolved = resolve(zone) ?? zone;
  return RENAMED_ZONES[resolved] ?? resolved;
}

/** True where two names are one zone. */
export const sameZone = (one: string, other: string): boolean => canonicalZone(one) === canonicalZone(other);

/**
 * The zones in which a wearer may live, by country (ISO 3166-1 alpha-2), region and postcode. Region and postcode that
 * agree narrow each other; where they contradict, both count. With neither, all zones of the country. Telephone area
 * codes are not asked: numbers move with people. Empty for a country that is not known.
 */
export function zoneSet(country: string, region?: string, postcode?: string): readonly string[] {
  const code = country.trim().toUpperCase();
  // A runtime with older zone data lacks the newest zones; one that it cannot reckon with helps nobody.
  const all = (Object.hasOwn(COUNTRY_ZONES, code) ? COUNTRY_ZONES[code]! : []).filter((zone) =>
    resolve(zone),
  );
  const table = TABLES.get(code);
  if (!table) return all;
  const byRegion = region === undefined ? undefined : table.byRegion.get(plainName(region));
  const byPostcode = postcode === undefined ? undefined : zonesOfPostcode(table, postcode);
  if (!byRegion || !byPostcode) return byRegion ?? byPostcode ?? all;
  const inBoth = byRegion.filter((zone) => byPostcode.includes(zone));
  return inBoth.length > 0 ? inBoth : [...new Set([...byRegion, ...byPostcode])];
}

type CountryTable = RegionTable & { readonly byRegion: ReadonlyMap<string, readonly string[]> };

const TABLES: ReadonlyMap<string, CountryTable> = new Map(
  Object.entries({
    US: UNITED_STATES,
    CA: CANADA,
    AU: AUSTRALIA,
    NZ: NEW_ZEALAND,
    MX: MEXICO,
    ES: SPAIN,
  }).map(([code, table]) => {
    const named = table.regions.flatMap(({ names, zones }) =>
      names.map((name) => [plainName(name), zones] as const),
    );
    return [code, { ...table, byRegion: new Map(named) }];
  }),
);

function plainName(name: string): string {
  return bareText(name)
    .toLowerCase()
    .replace(/[.]/g, '')
    .replace(/[-\s]+/g, ' ');
}

function zonesOfPostcode(table: RegionTable, postcode: string): readonly string[] | undefined {
  const tidy = table.tidyPostcode(bareText(postcode));
  for (let length = tidy.length; length > 0; length -= 1) {
    const zones = table.postcodes.get(tidy.slice(0, length));
    if (zones) return zones;
  }
  return undefined;
}

const resolvedNames = new Map<string, string | undefined>();

/** Building a formatter is slow (about 50 µs), and a file has few zones: what was resolved is kept, up to a limit. */
function resolve(zone: string): string | undefined {
  if (resolvedNames.has(zone)) return resolvedNames.get(zone);
  let resolved: string | undefined;
  try {
    resolved = new Intl.DateTimeFormat('en', { timeZone: zone }).resolvedOptions().timeZone;
  } catch {
    resolved = undefined;
  }
  if (resolvedNames.size < 2000) resolvedNames.set(zone, resolved);
  return resolved;
}

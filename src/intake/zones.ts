import { bad, type Checked, good } from '../problems.ts';
import { bareText } from './bareText.ts';
import { RENAMED_ZONES, WHOLE_COUNTRY_NAMES } from './zoneNames.ts';

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

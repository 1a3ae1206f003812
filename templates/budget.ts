import type { Locale, Purpose } from './types.ts';

/**
 * How many parts a text may have. A caution may be longer than any other: it must stand alone when nobody answers the
 * telephone. House rule, no source; what a part is: see textParts.ts.
 */
export const PARTS_ALLOWED = { first: 2, later: 1, laterWithLink: 2, spanish: 3, caution: 3 } as const;

/** Words that a person writes are as long as they are; the page shows the count while they are written. */
export const WRITTEN_BY_HAND: ReadonlySet<Purpose> = new Set(['staff', 'correction']);

export function partsAllowed(of: {
  readonly purpose: Purpose;
  readonly locale: Locale;
  readonly first: boolean;
  readonly withLink: boolean;
}): number {
  if (WRITTEN_BY_HAND.has(of.purpose)) return Number.POSITIVE_INFINITY;
  if (of.purpose === 'caution') return PARTS_ALLOWED.caution;
  if (of.locale === 'es') return PARTS_ALLOWED.spanish;
  if (of.first) return PARTS_ALLOWED.first;
  return of.withLink ? PARTS_ALLOWED.laterWithLink : PARTS_ALLOWED.later;
}

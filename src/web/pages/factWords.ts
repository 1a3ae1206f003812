import { FACT_KEYS } from '../../causes/jobFacts.ts';
import { quantityOf } from '../../intake/quantities.ts';
import { powerWords } from './powerWords.ts';

/** Facts whose sign is a direction: what they are the place of, and the two ways that it may lie. */
const DIRECTIONS: Readonly<Record<string, { what: string; more: string; less: string; none: string }>> = {
  cross_above_pupil_mm: {
    what: 'fitting cross',
    more: 'above the pupil',
    less: 'below the pupil',
    none: 'at the pupil',
  },
  cross_nasal_mm: {
    what: 'fitting cross',
    more: 'nasal of the pupil',
    less: 'temporal of the pupil',
    none: 'at the pupil',
  },
};

export const factName = (key: string): string =>
  quantityOf(key)?.label.toLowerCase() ?? (FACT_KEYS as Record<string, { words: string }>)[key]?.words ?? key;

/** A value as it stands in a table: right before left, true minus signs. */
export function valueWords(value: unknown): string {
  return eachEye(value, (one) => {
    if (one === true) return 'yes';
    if (one === false) return 'no';
    return typeof one === 'number' ? String(one).replace('-', '−') : String(one);
  });
}

/** A fact in a sentence: its name and its value with unit, a direction in words ("fitting cross", "R 3 mm below the pupil"). */
export function factWords(key: string, value: unknown): { readonly name: string; readonly value: string } {
  const direction = DIRECTIONS[key];
  if (direction !== undefined) {
    const { what, more, less, none } = direction;
    const way = (mm: number) => (mm === 0 ? none : `${Math.abs(mm)} mm ${mm > 0 ? more : less}`);
    return {
      name: what,
      value: eachEye(value, (one) => (typeof one === 'number' ? way(one) : String(one))),
    };
  }
  const unit = quantityOf(key)?.unit ?? null;
  const words = valueWords(value);
  return { name: factName(key), value: unit === 'mm' && isNumeric(value) ? `${words} mm` : words };
}

const isNumeric = (value: unknown): boolean =>
  typeof value === 'number' ||
  (typeof value === 'object' &&
    value !== null &&
    Object.values(value).every((one) => typeof one === 'number') &&
    !Array.isArray(value));

function eachEye(value: unknown, words: (one: unknown) => string): string {
  if (Array.isArray(value)) return powerWords(value as unknown as readonly [number, number, number]);
  if (typeof value !== 'object' || value === null) return words(value);
  return Object.entries(value)
    .sort(([one], [other]) => other.localeCompare(one))
    .map(([eye, one]) => `${eye} ${eachEye(one, words)}`)
    .join(', ');
}

import { bareText } from './bareText.ts';
import type { Eye } from './job.ts';
import { QUANTITIES, type Quantity } from './quantities.ts';

type PowerPart = 'sphere' | 'cylinder' | 'axis';

/** What a column or field is: which quantity, which eye, which part of a power. */
export type Place = { readonly quantity: Quantity; readonly eye?: Eye; readonly part?: PowerPart };

/** The field name of a place: key, then _R or _L, then _sphere, _cylinder or _axis. */
export const fieldName = ({ quantity, eye, part }: Place): string =>
  [quantity.key, eye, part].filter((word) => word !== undefined).join('_');

/**
 * Which quantity a column head or field name means. Case, spacing, signs between words, the order of words, units in
 * brackets and the usual trade words make no difference; R, L, OD, OS, RE and LE say the eye. Undefined for a head that
 * is not known: it is told, never guessed.
 */
export function placeOf(head: string): Place | undefined {
  const words = wordsOf(head);
  const whole = lookUp(FIGURES_AND_WORDS, words);
  if (whole) return { quantity: whole };
  const eyes = words.flatMap((word) => EYE_WORDS[word] ?? []);
  const eye = eyes[0];
  if (eye === undefined || eyes.length > 1) return undefined;
  const rest = words.filter((word) => EYE_WORDS[word] === undefined);
  const ofEachEye = lookUp(FIGURES_AND_WORDS, rest);
  if (ofEachEye?.perEye) return { quantity: ofEachEye, eye };
  const parts = rest.flatMap((word) => PART_WORDS[word] ?? []);
  const [part] = parts;
  const pair = rest.filter((word) => PART_WORDS[word] === undefined && !POWER_WORDS.has(word)).join(' ');
  const power = POWERS.get(pair);
  if (!power || parts.length > 1) return undefined;
  return part ? { quantity: power, eye, part } : { quantity: power, eye };
}

const EYE_WORDS: Readonly<Record<string, Eye | undefined>> = {
  __proto__: null as never,
  r: 'R',
  right: 'R',
  od: 'R',
  re: 'R',
  l: 'L',
  left: 'L',
  os: 'L',
  le: 'L',
};

const PART_WORDS: Readonly<Record<string, PowerPart | undefined>> = {
  __proto__: null as never,
  sphere: 'sphere',
  sph: 'sphere',
  cylinder: 'cylinder',
  cyl: 'cylinder',
  axis: 'axis',
  ax: 'axis',
};

const POWER_WORDS = new Set(['power', 'powers', 'eye', 'd', 'deg']);
const UNIT_WORDS = new Set([
  'mm',
  'cm',
  'deg',
  'degrees',
  'd',
  'dioptre',
  'dioptres',
  'diopter',
  'diopters',
  'yes',
  'no',
  'eye',
]);

/** Words of a head in a fixed order: "LensDesign", "lens_design" and "Design (lens)" are the same. */
function wordsOf(head: string): string[] {
  return bareText(head)
    .slice(0, 120)
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .toLowerCase()
    .replace(/[’']s\b/g, '')
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '')
    .sort();
}

const named = (quantities: readonly Quantity[]): ReadonlyMap<string, Quantity> =>
  new Map(
    quantities.flatMap((quantity) =>
      [quantity.key, quantity.head, quantity.label, ...quantity.alsoWritten].map(
        (written) => [wordsOf(written).join(' '), quantity] as const,
      ),
    ),
  );

const FIGURES_AND_WORDS = named(QUANTITIES.filter(({ kind }) => kind !== 'power'));
const POWERS = named(QUANTITIES.filter(({ kind }) => kind === 'power'));

/** Units behind a head are dropped; "PD" is a unit only where the head means nothing with it. */
function lookUp(table: ReadonlyMap<string, Quantity>, words: readonly string[]): Quantity | undefined {
  const bare = words.filter((word) => !UNIT_WORDS.has(word));
  return (
    table.get(words.join(' ')) ??
    table.get(bare.join(' ')) ??
    table.get(bare.filter((word) => word !== 'pd').join(' '))
  );
}

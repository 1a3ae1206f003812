import type { Label } from '../replies/types.ts';

/** Labels that say that something is not right with the glasses: they open or join a case and are weighed for causes. */
export const TROUBLES: ReadonlySet<Label> = new Set<Label>([
  'swim',
  'distance-blur',
  'intermediate-blur',
  'near-blur',
  'near-too-low',
  'near-too-high',
  'narrow-field',
  'one-eye-off',
  'doubling',
  'depth-misjudged',
  'size-or-shape',
  'strain',
  'glare',
  'colour-fringes',
  'unclear-blur',
  'clear-in-car',
  'weak-outdoors',
  'slow-to-darken',
  'slow-to-clear',
  'tinted-indoors',
  'mismatched-tint',
  'slipping',
  'pressure',
  'crooked',
  'surface-flaw',
  'broken',
  'wrong-item',
]);

/** Labels that a person has to act on although they name no trouble of the lens. */
export const WISHES: ReadonlySet<Label> = new Set<Label>([
  'not-wearing',
  'wants-contact',
  'wants-money-back',
]);

export const opensCase = (label: Label): boolean => TROUBLES.has(label) || WISHES.has(label);

/** How it is going, as said last. */
export const GOING: ReadonlySet<Label> = new Set<Label>(['settled', 'getting-there']);

/** Labels that say something of the glasses or of what the wearer wants done about them. */
export const belongsInCase = (label: Label): boolean =>
  opensCase(label) || GOING.has(label) || label === 'urgent-eye' || label === 'fall-or-injury';

/** What the 1 to 5 ending of every question stands for. 3 says that something is wrong, not yet what: it is asked. */
export const CHECK_IN_ANSWERS: Readonly<Record<string, readonly Label[]>> = {
  '1': ['settled'],
  '2': ['getting-there'],
  '3': [],
  '4': ['not-wearing'],
  '5': ['wants-contact'],
};

/** Why an address is not used any more when somebody else answered from it. */
export const WRONG_NUMBER = 'wrong number';

import { bareText } from './bareText.ts';
import { type Reading, read, refused, shortened } from './cells.ts';
import type { ContactChannel } from './job.ts';
import type { Quantity } from './quantities.ts';

/** What the consent column says. `phoneOnly`: the wearer wants to be rung and not written to. */
export type ConsentWords = { readonly channels: readonly ContactChannel[]; readonly phoneOnly: boolean };

/** Reads the consent column. An empty cell is no consent: nobody asked, or nobody noted the answer. */
export function readConsent(input: string): Reading<ConsentWords> {
  const word = plainWord(input);
  const found = CONSENT[word];
  if (found) return read(found);
  return refused(
    'consent-unread',
    `“${shortened(input)}” does not say whether the wearer agreed.`,
    'yes, text, email, both, no, or empty',
    'Write yes only where the wearer agreed; leave it empty where nobody asked.',
  );
}

/** Reads yes or no. */
export function readYesNo(input: string): Reading<boolean> {
  const word = plainWord(input);
  if (YES.has(word)) return read(true);
  if (NO.has(word)) return read(false);
  return refused(
    'yes-no-unread',
    `“${shortened(input)}” is neither yes nor no.`,
    'yes, no, or empty',
    'Write yes or no.',
  );
}

/** Reads one of the choices of a quantity, or a trade word for it. */
export function readChoice(input: string, quantity: Quantity): Reading<string> {
  const word = plainWord(input);
  const choices = quantity.choices ?? [];
  const chosen = choices.find((choice) => plainWord(choice) === word) ?? TRADE_WORDS[quantity.key]?.[word];
  if (chosen !== undefined) return read(chosen);
  const allowed = choices.join(', ');
  return refused(
    'choice-unknown',
    `“${shortened(input)}” is not one of the choices.`,
    allowed,
    `Write one of: ${allowed}.`,
  );
}

/** Lower case, signs between words as one space. */
function plainWord(input: string): string {
  return bareText(input)
    .toLowerCase()
    .replace(/[\s\-_/+&,.]+/g, ' ')
    .replace(/\band\b/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();
}

const YES = new Set(['yes', 'y', 'true', '1', 'x', '✓', '✔', 'si', 'sí']);
const NO = new Set(['no', 'n', 'false', '0', '']);

const BOTH: ConsentWords = { channels: ['text', 'email'], phoneOnly: false };
const TEXT: ConsentWords = { channels: ['text'], phoneOnly: false };
const EMAIL: ConsentWords = { channels: ['email'], phoneOnly: false };
const NONE: ConsentWords = { channels: [], phoneOnly: false };
const PHONE: ConsentWords = { channels: [], phoneOnly: true };

const under = <T>(value: T, ...words: string[]): Record<string, T> =>
  Object.fromEntries(words.map((word) => [word, value]));

const CONSENT: Readonly<Record<string, ConsentWords>> = Object.assign(Object.create(null), {
  ...under(BOTH, ...YES, 'agreed', 'both', 'all', 'ok', 'text email', 'email text', 'sms email', 'email sms'),
  ...under(TEXT, 'text', 'texts', 'sms', 'text only', 'mobile', 'text message', 'text messages'),
  ...under(EMAIL, 'email', 'e mail', 'mail', 'email only', 'emails'),
  ...under(NONE, ...NO, 'none', 'refused', 'declined', 'not asked', 'never'),
  ...under(PHONE, 'phone', 'phone only', 'call', 'calls', 'call only', 'ring'),
});

const KINDS_OF_LENS: Readonly<Record<string, string>> = {
  multifocal: 'progressive',
  multifocals: 'progressive',
  varifocal: 'progressive',
  varifocals: 'progressive',
  progressives: 'progressive',
  ppl: 'progressive',
  pal: 'progressive',
  bifocals: 'bifocal',
  bf: 'bifocal',
  sv: 'single-vision',
  'single vision distance': 'single-vision',
  distance: 'single-vision',
};

const TRADE_WORDS: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  previous_lens: {
    ...KINDS_OF_LENS,
    reader: 'readers',
    reading: 'readers',
    'ready readers': 'readers',
    no: 'none',
    nothing: 'none',
  },
  lens_type: {
    ...KINDS_OF_LENS,
    office: 'room-distance',
    occupational: 'room-distance',
    degressive: 'room-distance',
  },
  prefers: {
    sms: 'text',
    texts: 'text',
    mobile: 'text',
    'e mail': 'email',
    mail: 'email',
    call: 'phone',
    telephone: 'phone',
    ring: 'phone',
  },
  way: {
    shop: 'counter',
    'in shop': 'counter',
    'in store': 'counter',
    collect: 'counter',
    collected: 'counter',
    posted: 'post',
    mail: 'post',
    mailed: 'post',
    shipped: 'post',
    parcel: 'post',
  },
};

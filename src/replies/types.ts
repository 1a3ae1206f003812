/** What a wearer's reply was read to say. The meaning of each label stands in `src/replies/labels.ts`. */
export const LABELS = [
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
  'settled',
  'getting-there',
  'not-wearing',
  'not-arrived',
  'wants-contact',
  'wants-money-back',
  'stop',
  'resume',
  'help',
  'wrong-number',
  'urgent-eye',
  'fall-or-injury',
] as const;
export type Label = (typeof LABELS)[number];

/** Questions that wearers always put; answered from a kept answer of the shop, `other` goes to staff. */
export const ASKS = [
  'car-tint',
  'how-long',
  'driving',
  'stairs',
  'screen',
  'cleaning',
  'old-pair',
  'returns',
  'papers',
  'order-status',
  'other',
] as const;
export type Ask = (typeof ASKS)[number];

export const LOCALES = ['en', 'es'] as const;
export type Locale = (typeof LOCALES)[number];

/** `start` and `end` count UTF-16 units in the text as it was given (end exclusive). */
export type Span = { readonly label: Label | Ask; readonly start: number; readonly end: number };

/**
 * The newest question that was asked before a bare answer. `check-in` is the 1 to 5 ending; a follow-up question has
 * tap answers, each with the labels that it stands for. A bare answer to a question older than 48 hours is not read.
 */
export type AskedQuestion =
  | { readonly kind: 'check-in' }
  | { readonly kind: 'yes-no'; readonly id: string }
  | {
      readonly kind: 'choices';
      readonly id: string;
      readonly answers: readonly { readonly key: string; readonly words: string }[];
    };

/** The tap answer that a bare reply gave: `1`–`5` for a check-in, `a`, `b`, `c`, `yes` or `no` for a question. */
export type BareAnswer = { readonly questionId: string; readonly answer: string };

/** How much, which eye, where and when, as the wearer told it. Every field is absent when it was not said. */
export type Extent = {
  readonly trend?: 'worse' | 'same' | 'better';
  readonly eye?: 'R' | 'L' | 'both';
  readonly distances?: readonly ('far' | 'arm' | 'near')[];
  readonly tasks?: readonly string[];
  readonly day?: number;
};

export type Reading = {
  readonly labels: readonly Label[];
  /** A danger sign: `urgent-eye` or `fall-or-injury`. It goes to a person at once. */
  readonly urgent: boolean;
  readonly stop: boolean;
  /** Set when the words named one channel only ("no more texts, email is fine"). */
  readonly stopChannel?: 'text' | 'email';
  /** Words that may or may not be a stop: automatic texts are held until a person has looked. */
  readonly stopDoubtful: boolean;
  /** Death, grave illness or hospital in the household: nothing automatic is said any more, a person writes. */
  readonly personOnly: boolean;
  readonly asks: readonly Ask[];
  readonly spans: readonly Span[];
  /** Weighty words (body, sight, sudden, hurt) that no label accounts for; a reply with any goes to the tray. */
  readonly leftOver: readonly { readonly start: number; readonly end: number }[];
  readonly bareAnswer?: BareAnswer;
  readonly extent: Extent;
  readonly locale: Locale;
  readonly sorterVersion: string;
};

export type SortInput = {
  readonly text: string;
  readonly asked?: AskedQuestion | undefined;
  readonly locale?: Locale | undefined;
};

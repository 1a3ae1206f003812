export const LOCALES = ['en', 'es'] as const;
export type Locale = (typeof LOCALES)[number];
export type Medium = 'text' | 'email';

export type ShopWords = {
  readonly name: string;
  /** The name that signs texts; up to 15 letters keep a later check-in in one part. Left out: the whole name. */
  readonly textName?: string | undefined;
  readonly phone: string;
  /** Who to turn to near the shop when there is danger, most general first; without them no caution can be written. */
  readonly localNumbers: readonly LocalNumber[];
  /** Answers that the shop has written itself; they go before ours. */
  readonly keptAnswers?: Partial<Record<Ask, Partial<Record<Locale, string>>>> | undefined;
};
type LocalNumber = { readonly who: string; readonly number: string };

export const ASK_DAYS = [3, 7, 14, 30] as const;
export type AskDay = (typeof ASK_DAYS)[number];

/** What the wearer wrote about, and what a machine may say to it before a person has looked. */
export const HEARD = [
  'settled',
  'getting-there',
  'trouble-look',
  'trouble-question',
  'not-arrived',
  'not-wearing',
  'wants-contact',
  'wants-money-back',
  'got-it',
] as const;
export type Heard = (typeof HEARD)[number];

/** Causes that are normal behaviour and for which advice may go out in answer to the wearer's own words. */
export const ADVICE = [
  'windscreen-uv',
  'hot-weather-limit',
  'low-uv-light',
  'normal-fade-time',
  'cold-slow-clear',
  'stray-uv-indoors',
  'residual-base-tint',
  'early-adaptation',
  'viewing-habit',
  'lower-zone-on-steps',
  'switching-pairs',
  'expectation-gap',
  'needs-task-pair',
  'dirty-or-smeared',
] as const;
export type Advice = (typeof ADVICE)[number];

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
] as const;
export type Ask = (typeof ASKS)[number];

export type AnswerPiece =
  | { readonly kind: 'heard'; readonly what: Heard }
  | { readonly kind: 'advice'; readonly cause: Advice }
  | { readonly kind: 'kept'; readonly ask: Ask };

export type Question = {
  readonly id: string;
  /** Used as it stands where this locale has no words of its own for the id. */
  readonly text: string;
  readonly answers: readonly { readonly key: string; readonly words: string }[];
};

/** What a bare answer to this message answers. */
export type Asks =
  | { readonly kind: 'check-in' }
  | { readonly kind: 'yes-no'; readonly id: string }
  | { readonly kind: 'choices'; readonly id: string; readonly answers: Question['answers'] };

export type Letter =
  | {
      readonly purpose: 'tips';
      readonly way: 'counter' | 'post';
      readonly firstMultifocal: boolean;
      readonly lightReactive: boolean;
    }
  | {
      readonly purpose: 'check-in';
      readonly day: AskDay;
      /** The first question about a pair that was made again: is what was wrong before put right? */
      readonly again?: boolean;
    }
  | { readonly purpose: 'have-they-come' }
  | { readonly purpose: 'answer'; readonly pieces: readonly AnswerPiece[] }
  | { readonly purpose: 'question'; readonly question: Question }
  | { readonly purpose: 'asked-again'; readonly question?: Question | undefined }
  | { readonly purpose: 'stop-done'; readonly channels: readonly Medium[] }
  | { readonly purpose: 'resume-done' }
  | { readonly purpose: 'help' }
  | { readonly purpose: 'wrong-number' }
  | { readonly purpose: 'caution'; readonly danger: Danger; readonly hours: 'open' | 'closed' }
  | { readonly purpose: 'staff'; readonly words: string; readonly writer?: string | undefined }
  | { readonly purpose: 'correction'; readonly words: string };

export type Purpose = Letter['purpose'];
export type Danger = 'eye' | 'fall';

export type RenderInput = Letter & {
  readonly locale: Locale;
  readonly channel: Medium;
  readonly shop: ShopWords;
  readonly wearer: { readonly firstName: string };
  /** Nothing was sent to this wearer before: the message says who writes and how to stop. */
  readonly first?: boolean | undefined;
  /** The wearer's page that goes with the message. Left out of a text that it would make too long. */
  readonly link?: string | undefined;
  readonly stopLink?: string | undefined;
};

export type Rendered = {
  readonly subject?: string;
  readonly text: string;
  readonly html?: string;
  readonly templateId: string;
  readonly templateVersion: string;
  readonly asks?: Asks;
  /** Pieces of an answer that a text had no room for: they are for staff. */
  readonly leftOut?: readonly AnswerPiece[];
};

/** Filled-in values that every sentence may use; names are already cleaned for the medium. */
export type Fill = {
  readonly shop: string;
  readonly phone: string;
  readonly name: string;
  readonly numbers: string;
  readonly numberList: readonly string[];
  readonly link: string | undefined;
};

/** An email's body: paragraphs, lists, and one link that says where it goes. */
export type Block =
  | string
  | { readonly heading: string }
  | { readonly list: readonly string[] }
  | { readonly link: string; readonly words: string };

/** Every sentence of one locale. Texts stay inside the budget table; unasked texts name nothing about the lenses. */
export type Words = {
  readonly version: string;
  readonly ending: Readonly<Record<Medium, string>>;
  readonly texts: {
    /** Longest first; the first that fits the budget goes. */
    checkInFirst(fill: Fill): readonly string[];
    checkIn(fill: Fill, day: AskDay): readonly string[];
    checkInAgain(fill: Fill): readonly string[];
    haveTheyCome(fill: Fill, first: boolean): readonly string[];
    tips(fill: Fill, way: 'counter' | 'post'): readonly string[];
    askedAgain(fill: Fill): string;
    signed(fill: Fill, words: string, writer: string | undefined): string;
    correction(fill: Fill, words: string): string;
    stopDone(fill: Fill, channels: readonly Medium[]): string;
    resumeDone(fill: Fill): string;
    help(fill: Fill): string;
    wrongNumber(fill: Fill): string;
    caution(fill: Fill, danger: Danger, hours: 'open' | 'closed'): string;
  };
  readonly emails: {
    greeting(fill: Fill): string;
    signature(fill: Fill): string;
    howToStop(stopLink: string | undefined): string;
    answerLink: string;
    tipsLink: string;
    checkIn(fill: Fill, day: AskDay): { readonly subject: string; readonly body: readonly Block[] };
    checkInAgain(fill: Fill): { readonly subject: string; readonly body: readonly Block[] };
    haveTheyCome(fill: Fill): { readonly subject: string; readonly body: readonly Block[] };
    tips(
      fill: Fill,
      of: {
        readonly way: 'counter' | 'post';
        readonly firstMultifocal: boolean;
        readonly lightReactive: boolean;
      },
    ): { readonly subject: string; readonly body: readonly Block[] };
    resumeDone(fill: Fill): string;
    help(fill: Fill): string;
    wrongNumber(fill: Fill): string;
    questionIntro: string;
    askedAgain: string;
    correctionIntro: string;
    caution(fill: Fill, danger: Danger, hours: 'open' | 'closed'): readonly Block[];
    subjects: Readonly<
      Record<
        | 'answer'
        | 'question'
        | 'stop-done'
        | 'resume-done'
        | 'help'
        | 'wrong-number'
        | 'caution'
        | 'staff'
        | 'correction',
        string
      >
    >;
  };
  readonly heard: Readonly<Record<Heard, string>>;
  readonly advice: Readonly<Record<Advice, string>>;
  readonly kept: Readonly<Record<Ask, string | undefined>>;
  /** What every kept answer ends with. */
  readonly orShallWeRing: string;
  readonly haveTheyComeAnswers: Question['answers'];
  /** Follow-up questions by the catalogue's id; empty in English, which the catalogue itself is written in. */
  readonly questions: Readonly<
    Record<string, { readonly text: string; readonly answers: Readonly<Record<string, string>> }>
  >;
};

import { renderMessage } from '../../templates/renderMessage.ts';
import type { Letter, Locale, Rendered, ShopWords } from '../../templates/types.ts';
import {
  ADVICE,
  type Advice,
  type AnswerPiece,
  ASK_DAYS,
  ASKS,
  type Heard,
  type Question,
} from '../../templates/types.ts';
import { linkPlace } from '../channels/linkPlaces.ts';
import type { LinkPurpose } from '../channels/tokens.ts';
import type { Label } from '../replies/types.ts';
import type { Shop } from '../store/shops.ts';
import type { ChannelKind } from '../store/tables.ts';
import type { Wearer } from '../store/wearers.ts';

/** A message as it will be put on record: words, the template that gave them, and what a bare answer to it answers. */
export type Said = {
  readonly subject: string | null;
  readonly body: string;
  readonly html: string | null;
  readonly template: string;
  readonly asked?: unknown;
};

export const localeOf = (wearer: Pick<Wearer, 'locale'>): Locale => (wearer.locale === 'es' ? 'es' : 'en');

/** What the templates are told of the shop. */
export function shopWords(shop: Pick<Shop, 'name' | 'settings'>): ShopWords {
  const { phone, textName, localNumbers, keptAnswers } = shop.settings;
  return { name: shop.name, textName, phone: phone ?? '', localNumbers: localNumbers ?? [], keptAnswers };
}

export type HowSaid = {
  /** Nothing was sent to this address before. */
  readonly first?: boolean;
  /** The public address that links begin with; without it a letter has none. */
  readonly linksAt?: string | undefined;
};

export function say(
  shop: Shop,
  wearer: Pick<Wearer, 'name' | 'locale'>,
  channel: ChannelKind,
  letter: Letter,
  how: HowSaid = {},
): Said {
  return asSaid(
    renderMessage({
      ...letter,
      locale: localeOf(wearer),
      channel,
      shop: shopWords(shop),
      wearer: { firstName: firstName(wearer.name) },
      first: how.first ?? false,
      ...linksOf(letter, how.linksAt),
    }),
  );
}

/** A name of plain letters: where it stands, any other of as many letters takes the same room and is written the same way. */
const PLAIN_NAME = /^[A-Z][A-Za-z]{2,19}$/;
const STAND_IN = 'Xqzqzqzqzqzqzqzqzqzq';

/** `say` for many wearers of a shop: a letter is put into words once for each length of name, and names are filled in. */
export function sayToMany(shop: Shop) {
  const said = new Map<string, Said>();
  return (
    wearer: Pick<Wearer, 'name' | 'locale'>,
    channel: ChannelKind,
    letter: Letter,
    how: HowSaid = {},
  ): Said => {
    const name = firstName(wearer.name);
    if (!PLAIN_NAME.test(name)) return say(shop, wearer, channel, letter, how);
    const standIn = STAND_IN.slice(0, name.length);
    const key = JSON.stringify([letter, wearer.locale, channel, how, standIn]);
    const words = said.get(key) ?? say(shop, { ...wearer, name: standIn }, channel, letter, how);
    said.set(key, words);
    const filled = (text: string) => text.replaceAll(standIn, name);
    return {
      ...words,
      subject: words.subject && filled(words.subject),
      body: filled(words.body),
      html: words.html && filled(words.html),
    };
  };
}

/** The places of the links that go with a letter: to answer it or to read on, and to stop. */
export function linksOf(letter: Letter, linksAt: string | undefined): { link?: string; stopLink?: string } {
  if (linksAt === undefined) return {};
  const purpose = LINK_OF[letter.purpose];
  return {
    stopLink: linkPlace(linksAt, 'stop'),
    ...(purpose === undefined ? {} : { link: linkPlace(linksAt, purpose) }),
  };
}

const LINK_OF: Readonly<Partial<Record<Letter['purpose'], LinkPurpose>>> = {
  tips: 'tips',
  'check-in': 'answer',
  'have-they-come': 'answer',
  question: 'answer',
  'asked-again': 'answer',
};

const asSaid = (rendered: Rendered): Said => ({
  subject: rendered.subject ?? null,
  body: rendered.text,
  html: rendered.html ?? null,
  template: `${rendered.templateId}@${rendered.templateVersion}`,
  ...(rendered.asks ? { asked: rendered.asks } : {}),
});

const firstName = (name: string): string => name.trim().split(/\s+/)[0] ?? '';

export type CheckInToSay = {
  readonly kind: 'tips' | 'ask' | 'have they come';
  readonly day: number;
  readonly way: 'counter' | 'post';
  readonly firstMultifocal: boolean;
  readonly lightReactive: boolean;
  /** The pair takes the place of one that was made wrong or did not suit. */
  readonly replaces: boolean;
};

export function checkInLetter(checkIn: CheckInToSay): Letter {
  if (checkIn.kind === 'have they come') return { purpose: 'have-they-come' };
  if (checkIn.kind === 'tips') {
    const { way, firstMultifocal, lightReactive } = checkIn;
    return { purpose: 'tips', way, firstMultifocal, lightReactive };
  }
  const day = ASK_DAYS.find((one) => one >= checkIn.day) ?? 30;
  return { purpose: 'check-in', day, ...(checkIn.replaces && day === ASK_DAYS[0] ? { again: true } : {}) };
}

export type ToAnswer = {
  readonly labels: readonly Label[];
  readonly asks: readonly string[];
  readonly troubled: boolean;
  /** Only bare answers to a question that is too old. */
  readonly stale: boolean;
  /** The cause that leads, when it is one that is explained and not mended. */
  readonly explainedBy: string | null;
  readonly question: Question | null;
};

/**
 * The one answer to all that a wearer wrote: a follow-up question where one is worth asking, else what was heard, with advice
 * for normal behaviour and kept answers to what was asked. Undefined: nothing that a machine should say.
 */
export function answerLetter(to: ToAnswer): Letter | undefined {
  if (to.stale) return { purpose: 'asked-again' };
  if (to.question && to.troubled) return { purpose: 'question', question: to.question };
  const pieces: AnswerPiece[] = [];
  const heard = whatWasHeard(to);
  if (heard) pieces.push({ kind: 'heard', what: heard });
  const advice = ADVICE.find((cause) => cause === to.explainedBy);
  if (advice !== undefined) pieces.push({ kind: 'advice', cause: advice });
  for (const ask of ASKS) if (to.asks.includes(ask)) pieces.push({ kind: 'kept', ask });
  return pieces.length > 0 ? { purpose: 'answer', pieces } : undefined;
}

function whatWasHeard(to: ToAnswer): Heard | undefined {
  const says = (label: Label) => to.labels.includes(label);
  if (says('wants-money-back')) return 'wants-money-back';
  if (says('wants-contact') && !to.asks.some((ask) => ask !== 'other')) return 'wants-contact';
  if (to.troubled) return to.explainedBy !== null && isAdvice(to.explainedBy) ? undefined : 'trouble-look';
  if (says('not-arrived')) return 'not-arrived';
  if (says('not-wearing')) return 'not-wearing';
  if (says('getting-there')) return 'getting-there';
  if (says('settled')) return 'settled';
  return undefined;
}

const isAdvice = (cause: string): cause is Advice => (ADVICE as readonly string[]).includes(cause);

import type { LetterEntry, LettersView } from '../../../dashboard/letters/view.ts';
import { alarmWords, trayAlarmWords } from '../../../templates/alarm.ts';
import { type EveryLetter, everyLetter } from '../../../templates/everyLetter.ts';
import { cautionReady, renderMessage } from '../../../templates/renderMessage.ts';
import { textParts } from '../../../templates/textParts.ts';
import type { Letter, Locale, Medium } from '../../../templates/types.ts';
import { QUESTIONS } from '../../causes/catalogue/questions.ts';
import { linkPlace } from '../../channels/linkPlaces.ts';
import { linksOf, shopWords } from '../../followup/words.ts';
import type { Shop } from '../../store/shops.ts';

export type LettersAsked = {
  readonly locale: Locale;
  readonly channel: Medium | 'all';
  /** The public address that links begin with. */
  readonly linksAt?: string | undefined;
};

const HAND_WRITTEN = { en: 'we can see you on Friday at 10.', es: 'le esperamos el viernes a las 10.' };
/** A first name of our own making, of usual length. */
const FIRST_NAME = 'Robin';

/** Every letter in the words of this shop, as a wearer will have it, and the alarms as people on call will. */
export function lettersView(shop: Pick<Shop, 'name' | 'settings'>, asked: LettersAsked): LettersView {
  const words = shopWords(shop);
  const ready = cautionReady(words);
  const channels: readonly Medium[] = asked.channel === 'all' ? ['text', 'email'] : [asked.channel];
  const letters = everyLetter(QUESTIONS, HAND_WRITTEN[asked.locale]).filter(
    ({ letter }) => ready || letter.purpose !== 'caution',
  );
  const groups = GROUPS.map(({ name, purposes }) => ({
    name,
    letters: letters
      .filter(({ letter }) => purposes.includes(letter.purpose))
      .flatMap((one) => channels.map((channel) => entryOf(one, channel, asked, words))),
  })).filter((group) => group.letters.length > 0);
  return {
    locale: asked.locale,
    channel: asked.channel,
    groups: [...groups, { name: 'To people on call', letters: alarmEntries(shop.name, channels, asked) }],
    pages: PAGES.map((page) => ({ ...page, href: `/letters/pages/${page.href}?lang=${asked.locale}` })),
    withLinks: asked.linksAt !== undefined,
    cannot: ready ? [] : ['The caution after a danger sign cannot be written: no local numbers are set.'],
  };
}

const GROUPS: readonly { readonly name: string; readonly purposes: readonly Letter['purpose'][] }[] = [
  { name: 'At hand-over', purposes: ['tips'] },
  { name: 'Check-ins', purposes: ['check-in', 'have-they-come', 'asked-again'] },
  { name: 'After a danger sign', purposes: ['caution'] },
  { name: 'Answers', purposes: ['answer', 'help'] },
  { name: 'Follow-up questions', purposes: ['question'] },
  { name: 'Stop, start, wrong number', purposes: ['stop-done', 'resume-done', 'wrong-number'] },
  { name: 'Written by hand', purposes: ['staff', 'correction'] },
];

function entryOf(
  { letter, first }: EveryLetter,
  channel: Medium,
  { locale, linksAt }: LettersAsked,
  shop: ReturnType<typeof shopWords>,
): LetterEntry {
  const rendered = renderMessage({
    ...letter,
    ...linksOf(letter, linksAt),
    locale,
    channel,
    shop,
    wearer: { firstName: FIRST_NAME },
    first,
  });
  return {
    name: nameOf(letter, first),
    channel,
    subject: rendered.subject ?? '',
    body: rendered.text,
    templateId: rendered.templateId,
    templateVersion: rendered.templateVersion,
    size: channel === 'text' ? sizeOf(rendered.text) : '',
    goes: GOES[letter.purpose],
  };
}

function sizeOf(text: string): string {
  const { segments } = textParts(text);
  return `${segments === 1 ? '1 part' : `${segments} parts`}, ${[...text].length} characters`;
}

function nameOf(letter: Letter, first: boolean): string {
  const name = letterName(letter);
  return first ? `${name}, the first message` : name;
}

function letterName(letter: Letter): string {
  switch (letter.purpose) {
    case 'tips':
      return [
        `Tips, ${letter.way === 'post' ? 'by post' : 'at the counter'}`,
        letter.firstMultifocal ? 'first multifocals' : 'multifocals before',
        letter.lightReactive ? 'light-reactive' : 'not light-reactive',
      ].join(', ');
    case 'check-in':
      return `Day ${letter.day}`;
    case 'have-they-come':
      return 'Have they come';
    case 'answer':
      return letter.pieces.map(pieceName).join(', ');
    case 'question':
      return letter.question.text;
    case 'asked-again':
      return letter.question ? 'Asked again, a follow-up question' : 'Asked again, a check-in';
    case 'stop-done':
      return `Stop confirmed, ${letter.channels.map((one) => `${one}s`).join(' and ')}`;
    case 'resume-done':
      return 'Start confirmed';
    case 'help':
      return 'Who writes';
    case 'wrong-number':
      return 'Wrong number';
    case 'caution':
      return `Caution, ${letter.danger === 'eye' ? 'sight or eye' : 'fall or injury'}, shop ${letter.hours}`;
    case 'staff':
      return 'From staff';
    case 'correction':
      return 'Correction of advice that was wrong';
  }
}

function pieceName(piece: Extract<Letter, { purpose: 'answer' }>['pieces'][number]): string {
  const plain = (id: string) => id.replaceAll('-', ' ');
  if (piece.kind === 'heard') return `Heard: ${plain(piece.what)}`;
  if (piece.kind === 'advice') return `Advice: ${plain(piece.cause)}`;
  return `Asked: ${plain(piece.ask)}`;
}

const PAGES = [
  { name: 'Answer', href: 'answer', opens: 'from a check-in: five taps, own words, a photo' },
  { name: 'Answer a question', href: 'question', opens: 'from a follow-up question by email' },
  { name: 'After a sign of danger', href: 'danger', opens: 'at once after such words, with the caution' },
  { name: 'First multifocals', href: 'first-multifocals', opens: 'from the tips' },
  { name: 'Light-reactive', href: 'light-reactive', opens: 'from the tips of such a pair' },
  { name: 'Measure for us', href: 'measure', opens: 'when staff ask for it' },
  { name: 'No more messages', href: 'stop', opens: 'from every email' },
  { name: 'A link that has run out', href: 'ran-out', opens: 'after its time' },
  { name: '“I have it”', href: 'have-it', opens: 'from an alarm, for people on call' },
] as const;

const UNASKED = 'unasked, at a civil hour of their day';
const AT_ONCE = 'at once, at any hour';
const GOES: Readonly<Record<Letter['purpose'], string>> = {
  tips: `${UNASKED}, once`,
  'check-in': UNASKED,
  'have-they-come': UNASKED,
  answer: 'in answer, after two quiet minutes',
  question: 'in answer, after two quiet minutes, or when staff ask',
  'asked-again': 'in answer to a number that came too late',
  'stop-done': `${AT_ONCE}, once`,
  'resume-done': 'in answer, at a civil hour of their day',
  help: AT_ONCE,
  'wrong-number': `${AT_ONCE}, once`,
  caution: `${AT_ONCE}, also after a stop`,
  staff: 'when staff write',
  correction: 'when staff take advice back',
};

/** Alarms hold no word of the wearer; the letter of the name and the link are invented here. */
function alarmEntries(
  shopName: string,
  channels: readonly Medium[],
  { locale, linksAt }: LettersAsked,
): LetterEntry[] {
  const link = 'https://shop.example/cases/1';
  const haveLink = linksAt === undefined ? undefined : linkPlace(linksAt, 'have');
  const danger = { locale, shopName, initial: 'R', caseLink: link, haveLink } as const;
  const kinds = [
    {
      name: 'Danger, first time',
      goes: `${AT_ONCE}, to the first on call`,
      words: alarmWords({ ...danger, caution: 'not known', toldBefore: 0 }),
    },
    {
      name: 'Danger, told before, caution not arrived',
      goes: 'after five minutes, then to the next, until someone has it',
      words: alarmWords({ ...danger, caution: 'not arrived', toldBefore: 1 }),
    },
    {
      name: 'Test of the alarm',
      goes: 'when staff test it, to everyone on call',
      words: alarmWords({
        ...danger,
        initial: 'X',
        caseLink: undefined,
        haveLink: undefined,
        caution: 'arrived',
        toldBefore: 0,
        test: true,
      }),
    },
    {
      name: 'Tray not looked at',
      goes: 'once, after two open hours',
      words: trayAlarmWords({ locale, shopName, waiting: 2, link: 'https://shop.example/tray' }),
    },
  ];
  return kinds.flatMap(({ name, goes, words }) =>
    channels.map((channel) => ({
      name,
      channel,
      subject: channel === 'email' ? words.email.subject : '',
      body: channel === 'email' ? words.email.text : words.text,
      templateId: 'alarm',
      templateVersion: '1',
      size: channel === 'text' ? sizeOf(words.text) : '',
      goes,
    })),
  );
}

import { partsAllowed } from './budget.ts';
import { asHtml, asPlainText } from './emailBody.ts';
import { english } from './en/words.ts';
import { spanish } from './es/words.ts';
import { foldName, foldText } from './foldText.ts';
import { textParts } from './textParts.ts';
import type {
  AnswerPiece,
  Ask,
  Asks,
  Block,
  Fill,
  Locale,
  Question,
  Rendered,
  RenderInput,
  ShopWords,
  Words,
} from './types.ts';

const WORDS: Readonly<Record<Locale, Words>> = { en: english, es: spanish };

/**
 * The words of one message to a wearer, ready for its channel. Texts are kept inside the budget table: of several ways to
 * say a thing the longest that fits is taken, and a link that finds no room is left out. A caution without the shop's
 * local numbers cannot be written (see cautionReady) and throws: it must never have been let go live.
 */
export function renderMessage(input: RenderInput): Rendered {
  if (input.purpose === 'caution' && !cautionReady(input.shop)) {
    throw new Error('A caution needs the local numbers of the shop: set them before going live.');
  }
  const words = WORDS[input.locale];
  const asks = asksOf(input, words);
  return {
    ...(input.channel === 'text' ? renderText(input, words) : renderEmail(input, words)),
    templateId: templateId(input),
    templateVersion: words.version,
    ...(asks ? { asks } : {}),
  };
}

/** False until the shop has written down who to turn to near it; until then no real channel may be switched on. */
export function cautionReady(shop: Pick<ShopWords, 'localNumbers'>): boolean {
  return shop.localNumbers.some((one) => one.who.trim() !== '' && /\d{2,}/.test(one.number));
}

/** The kept answer to a question that wearers always put; undefined: the shop has not written one, a person answers. */
function keptAnswer(ask: Ask, locale: Locale, shop: Pick<ShopWords, 'keptAnswers'>): string | undefined {
  const words = WORDS[locale];
  const own = shop.keptAnswers?.[ask]?.[locale]?.trim();
  if (!own) return words.kept[ask];
  return own.endsWith(words.orShallWeRing) ? own : `${own.replace(/[.,;\s]+$/, '')}, ${words.orShallWeRing}`;
}

/** A follow-up question in the wearer's language, as far as this locale has words for it. */
export function questionIn(locale: Locale, question: Question): Question {
  const own = WORDS[locale].questions[question.id];
  if (!own) return question;
  const answers = question.answers.map(({ key, words }) => ({ key, words: own.answers[key] ?? words }));
  return { id: question.id, text: own.text, answers };
}

/** The question whether posted glasses have come, as a page puts it. */
export function haveTheyComeIn(locale: Locale): Question {
  const words = WORDS[locale];
  const fill: Fill = { shop: '', phone: '', name: '', numbers: '', numberList: [], link: undefined };
  const { subject } = words.emails.haveTheyCome(fill);
  return { id: 'have-they-come', text: subject, answers: words.haveTheyComeAnswers };
}

function asksOf(input: RenderInput, words: Words): Asks | undefined {
  switch (input.purpose) {
    case 'check-in':
      return { kind: 'check-in' };
    case 'have-they-come':
      return { kind: 'choices', id: 'have-they-come', answers: words.haveTheyComeAnswers };
    case 'question':
      return choices(questionIn(input.locale, input.question));
    case 'asked-again':
      return input.question ? choices(questionIn(input.locale, input.question)) : { kind: 'check-in' };
    case 'answer':
      return input.pieces.some((piece) => piece.kind === 'kept')
        ? { kind: 'yes-no', id: 'ring-you' }
        : undefined;
    default:
      return undefined;
  }
}

const choices = (question: Question): Asks => ({
  kind: 'choices',
  id: question.id,
  answers: question.answers,
});

function templateId(input: RenderInput): string {
  const detail = {
    tips: () => (input.purpose === 'tips' ? input.way : ''),
    'check-in': () => (input.purpose === 'check-in' ? `day-${input.day}${input.again ? '-again' : ''}` : ''),
    question: () => (input.purpose === 'question' ? input.question.id : ''),
    caution: () => (input.purpose === 'caution' ? `${input.danger}-${input.hours}` : ''),
  } as Partial<Record<RenderInput['purpose'], () => string>>;
  return [input.purpose, detail[input.purpose]?.(), input.locale, input.channel].filter(Boolean).join('.');
}

// Texts

function renderText(input: RenderInput, words: Words): Pick<Rendered, 'text' | 'leftOut'> {
  const fill = fillFor(input, foldName);
  if (input.purpose === 'answer') return answerText(input.pieces, input, words, fill);
  const first = input.first === true || input.purpose === 'tips';
  const allowed = (text: string) =>
    partsAllowed({
      purpose: input.purpose,
      locale: input.locale,
      first,
      withLink: input.link !== undefined && text.includes(input.link),
    });
  const ways = textWays(input, words, fill, first).map(foldText);
  return { text: ways.find((text) => textParts(text).segments <= allowed(text)) ?? ways.at(-1)! };
}

/** Every way in which this locale can say it, longest first. */
function textWays(input: RenderInput, words: Words, fill: Fill, first: boolean): readonly string[] {
  const { texts } = words;
  switch (input.purpose) {
    case 'tips':
      return texts.tips(fill, input.way);
    case 'check-in':
      if (first) return texts.checkInFirst(fill);
      return input.again ? texts.checkInAgain(fill) : texts.checkIn(fill, input.day);
    case 'have-they-come':
      return texts.haveTheyCome(fill, first);
    case 'question':
      return [questionText(questionIn(input.locale, input.question), words, fill)];
    case 'asked-again':
      return [
        input.question
          ? questionText(questionIn(input.locale, input.question), words, fill)
          : texts.askedAgain(fill),
      ];
    case 'stop-done':
      return [texts.stopDone(fill, input.channels)];
    case 'resume-done':
      return [texts.resumeDone(fill)];
    case 'help':
      return [texts.help(fill)];
    case 'wrong-number':
      return [texts.wrongNumber(fill)];
    case 'caution':
      return [texts.caution(fill, input.danger, input.hours)];
    case 'staff':
      return [texts.signed(fill, input.words.trim(), input.writer && foldName(input.writer))];
    case 'correction':
      return [texts.correction(fill, input.words.trim())];
    case 'answer':
      throw new Error('answers are put together apart');
  }
}

function questionText(question: Question, words: Words, fill: Fill): string {
  const answers = question.answers.map((answer) => `${answer.key} ${answer.words}`).join('\n');
  return words.texts.signed(fill, `${question.text}\n${answers}`, undefined);
}

/** As many pieces as the budget has room for, the weightiest first; what is left out is for staff. */
function answerText(
  pieces: readonly AnswerPiece[],
  input: RenderInput,
  words: Words,
  fill: Fill,
): { text: string; leftOut: readonly AnswerPiece[] } {
  const allowed = partsAllowed({ purpose: 'answer', locale: input.locale, first: false, withLink: false });
  const put = (said: readonly AnswerPiece[]) => {
    const sentences = inOrder(said, SAID_FIRST).flatMap((piece) => pieceWords(piece, input, words) ?? []);
    const joined = sentences.map((one, at) => (at === 0 ? one : capital(one))).join(' ');
    return foldText(words.texts.signed(fill, joined || words.heard['got-it'], undefined));
  };
  let said: readonly AnswerPiece[] = [];
  for (const piece of inOrder(pieces, WEIGHTIEST_FIRST)) {
    if (pieceWords(piece, input, words) === undefined) continue;
    const more = [...said, piece];
    if (said.length === 0 || textParts(put(more)).segments <= allowed) said = more;
  }
  return {
    text: put(said),
    leftOut: pieces.filter((piece) => piece.kind !== 'heard' && !said.includes(piece)),
  };
}

/** A kept answer ends with its question, so it is said last. */
const SAID_FIRST: readonly AnswerPiece['kind'][] = ['heard', 'advice', 'kept'];
const WEIGHTIEST_FIRST: readonly AnswerPiece['kind'][] = ['advice', 'kept', 'heard'];

function inOrder(
  pieces: readonly AnswerPiece[],
  order: readonly AnswerPiece['kind'][],
): readonly AnswerPiece[] {
  return [...pieces].sort((one, other) => order.indexOf(one.kind) - order.indexOf(other.kind));
}

function pieceWords(piece: AnswerPiece, input: RenderInput, words: Words): string | undefined {
  if (piece.kind === 'heard') return words.heard[piece.what];
  if (piece.kind === 'advice') return words.advice[piece.cause];
  return keptAnswer(piece.ask, input.locale, input.shop);
}

// Emails

function renderEmail(
  input: RenderInput,
  words: Words,
): Pick<Rendered, 'subject' | 'text' | 'html' | 'leftOut'> {
  const fill = fillFor(input, (name) => name.replace(/\s+/g, ' ').trim().slice(0, 60));
  const { subject, body, leftOut } = emailBody(input, words, fill);
  const blocks: Block[] = [
    words.emails.greeting(fill),
    ...body,
    ...(mayBeStopped(input) ? [words.emails.howToStop(input.stopLink)] : []),
    words.emails.signature(fill),
    ...(endsWithNumbers(input) ? [words.ending.email] : []),
  ];
  return {
    subject,
    text: asPlainText(blocks),
    html: asHtml(blocks, input.locale, subject),
    ...(leftOut && leftOut.length > 0 ? { leftOut } : {}),
  };
}

const endsWithNumbers = (input: RenderInput) =>
  input.purpose === 'check-in' || (input.purpose === 'asked-again' && !input.question);
const mayBeStopped = (input: RenderInput) =>
  ['tips', 'check-in', 'have-they-come', 'question', 'asked-again', 'resume-done', 'help'].includes(
    input.purpose,
  );

type EmailBody = {
  readonly subject: string;
  readonly body: readonly Block[];
  readonly leftOut?: readonly AnswerPiece[];
};

function emailBody(input: RenderInput, words: Words, fill: Fill): EmailBody {
  const { emails, texts } = words;
  const link = (label: string): Block[] => (input.link ? [{ link: input.link, words: label }] : []);
  const plain = (subject: string, text: string): EmailBody => ({ subject, body: [text] });
  switch (input.purpose) {
    case 'tips': {
      const tips = emails.tips(fill, input);
      return { subject: tips.subject, body: [...tips.body, ...link(emails.tipsLink)] };
    }
    case 'check-in': {
      const asked = input.again ? emails.checkInAgain(fill) : emails.checkIn(fill, input.day);
      return { subject: asked.subject, body: [...asked.body, ...link(emails.answerLink)] };
    }
    case 'have-they-come': {
      const asked = emails.haveTheyCome(fill);
      return { subject: asked.subject, body: [...asked.body, ...link(emails.answerLink)] };
    }
    case 'question':
      return questionEmail(questionIn(input.locale, input.question), words, link(emails.answerLink));
    case 'asked-again':
      return input.question
        ? questionEmail(questionIn(input.locale, input.question), words, link(emails.answerLink))
        : { subject: emails.subjects.question, body: [emails.askedAgain, ...link(emails.answerLink)] };
    case 'answer': {
      const said = inOrder(input.pieces, SAID_FIRST).map((piece) => ({
        piece,
        words: pieceWords(piece, input, words),
      }));
      const body = said.flatMap((one) => (one.words === undefined ? [] : [capital(one.words)]));
      return {
        subject: emails.subjects.answer,
        body: body.length > 0 ? body : [capital(words.heard['got-it'])],
        leftOut: said.filter((one) => one.words === undefined).map((one) => one.piece),
      };
    }
    case 'stop-done':
      return plain(emails.subjects['stop-done'], texts.stopDone(fill, input.channels));
    case 'resume-done':
      return plain(emails.subjects['resume-done'], emails.resumeDone(fill));
    case 'help':
      return plain(emails.subjects.help, emails.help(fill));
    case 'wrong-number':
      return plain(emails.subjects['wrong-number'], emails.wrongNumber(fill));
    case 'caution':
      return { subject: emails.subjects.caution, body: emails.caution(fill, input.danger, input.hours) };
    case 'staff':
      return {
        subject: emails.subjects.staff,
        body: [...paragraphs(input.words), ...(input.writer ? [input.writer] : [])],
      };
    case 'correction':
      return {
        subject: emails.subjects.correction,
        body: [emails.correctionIntro, ...paragraphs(input.words)],
      };
  }
}

function questionEmail(question: Question, words: Words, link: readonly Block[]): EmailBody {
  const answers = question.answers.map((answer) => `${answer.key} ${answer.words}`).join('\n');
  return {
    subject: words.emails.subjects.question,
    body: [words.emails.questionIntro, question.text, ...link, answers],
  };
}

const paragraphs = (text: string) => text.trim().split(/\n{2,}/);

// Filling in

function fillFor(input: RenderInput, cleaned: (name: string) => string): Fill {
  const numberList = input.shop.localNumbers.map((one) => `${cleaned(one.who)} ${one.number.trim()}`);
  return {
    shop: cleaned(input.channel === 'text' ? (input.shop.textName ?? input.shop.name) : input.shop.name),
    phone: input.shop.phone,
    name: cleaned(input.wearer.firstName),
    numbers: numberList.join(', '),
    numberList,
    link: input.link,
  };
}

const capital = (sentence: string) => sentence.charAt(0).toUpperCase() + sentence.slice(1);

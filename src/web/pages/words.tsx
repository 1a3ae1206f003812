import type { Context, Hono } from 'hono';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { WordsPage } from '../../../dashboard/words/page.tsx';
import type { WordsView } from '../../../dashboard/words/view.ts';
import { keepAnswer, keptAnswers, OR_SHALL_WE_RING } from '../../followup/keptAnswers.ts';
import { CHECK_IN_ANSWERS, opensCase } from '../../followup/troubles.ts';
import type { Problem } from '../../problems.ts';
import { labelMeanings } from '../../replies/labels.ts';
import { SORTER_VERSION, sortReply } from '../../replies/sortReply.ts';
import { type Extent, LABELS, type Label, type Reading } from '../../replies/types.ts';
import { type CorrectionRow, corrections } from '../../store/pages/words.ts';
import type { Shop } from '../../store/shops.ts';
import { shortTime } from '../format.ts';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { LABEL_GROUPS } from './labelGroups.ts';
import { labelName, markedWords } from './views.ts';

const CORRECTIONS = 50;
const LONGEST_TRIED = 2000;

const ABOUT: Readonly<Record<string, string>> = {
  'car-tint': 'Why do they stay pale in the car?',
  'how-long': 'How long until I am used to them?',
  driving: 'May I drive in them?',
  stairs: 'How do I manage stairs?',
  screen: 'How do I use them at a screen?',
  cleaning: 'How do I clean them?',
  'old-pair': 'What of my old pair?',
  returns: 'May I bring them back?',
  papers: 'May I have my papers: prescription, invoice, warranty?',
  'order-status': 'Where is my order?',
};

/** Try a sentence; what each label means; what staff corrected; the shop's own answers to what is always asked. */
export function wordsRoutes(app: Hono<Web>): void {
  app.get('/words', (c) => page(c));
  app.post('/words/kept', async (c) => {
    const room = c.get('room');
    const typed = { ask: field(c, 'ask'), locale: field(c, 'locale'), text: field(c, 'text') };
    const done = await keepAnswer(room.shell, room.shopId, typed, await personName(room));
    if (!done.ok) return page(c, { ...typed, problems: done.problems });
    return back(c, `/words?locale=${typed.locale}#kept`, {
      kind: 'done',
      text: done.value.own
        ? 'Kept. It is answered in your words from now on.'
        : 'Taken away. Our words stand where we have any; else a person answers.',
    });
  });
}

type Refused = {
  readonly ask: string;
  readonly locale: string;
  readonly text: string;
  readonly problems: readonly Problem[];
};

async function page(c: Context<Web>, refused?: Refused) {
  const room = c.get('room');
  const { shell, shop, now } = await loadShell(c, 'Words', '/words');
  const tried = (c.req.query('text') ?? '').trim().slice(0, LONGEST_TRIED);
  const locale = (refused?.locale ?? c.req.query('locale')) === 'es' ? 'es' : 'en';
  const asked = c.req.query('asked') === 'check-in' ? 'check-in' : 'none';
  const kept = await corrections(room.shell.db, room.shopId, CORRECTIONS);
  const view: WordsView = {
    tried,
    locale,
    asked,
    reading: tried === '' ? null : readingOf(tried, locale, asked, shop),
    labelGroups: LABEL_GROUPS.map(({ group, name }) => ({
      name,
      labels: LABELS.filter((label) => labelMeanings[label].group === group).map((id) => ({
        id,
        means: labelMeanings[id].meaning,
      })),
    })),
    corrections: kept.map((row) => correctionOf(row, now, shop.time_zone)),
    sorterVersion: SORTER_VERSION,
    kept: keptOf(shop, locale, refused),
  };
  return c.html(renderDocument(<WordsPage shell={shell} view={view} />), refused ? 400 : 200);
}

function readingOf(
  text: string,
  locale: 'en' | 'es',
  asked: 'none' | 'check-in',
  shop: Shop,
): WordsView['reading'] {
  const reading = sortReply({ text, locale, ...(asked === 'check-in' ? { asked: { kind: asked } } : {}) });
  const pressed = reading.bareAnswer ? (CHECK_IN_ANSWERS[reading.bareAnswer.answer] ?? []) : [];
  const labels = LABELS.filter((label) => reading.labels.includes(label) || pressed.includes(label));
  return {
    words: markedWords(text, [...reading.spans], reading.leftOver, reading.locale),
    labels: labels.map((id) => ({
      id,
      means: labelMeanings[id].name,
      passages: reading.spans
        .filter((span) => span.label === id)
        .map(({ start, end }) => text.slice(start, end)),
    })),
    asks: reading.asks.map((ask) => labelName(ask)),
    urgent: reading.urgent,
    stop: reading.stop,
    would: [
      ...extentLines(reading.extent),
      ...(reading.bareAnswer ? [`Read as the answer ${reading.bareAnswer.answer} to our question.`] : []),
      ...whatFollows(reading, labels, text, shop),
    ],
  };
}

/** What comes of these words when a wearer with a running pair writes them. */
function whatFollows(reading: Reading, labels: readonly Label[], text: string, shop: Shop): string[] {
  const { urgent, stop, stopDoubtful, stopChannel, personOnly, leftOver, asks, bareAnswer } = reading;
  const kept = keptAnswers(shop);
  const weighty = leftOver.map(({ start, end }) => `“${text.slice(start, end)}”`).join(', ');
  const nothing = labels.length === 0 && asks.length === 0 && bareAnswer === undefined;
  return [
    ...(urgent ? ['Goes to a person at once: whoever is on call is told, and the caution is sent.'] : []),
    ...(stop
      ? [`Stops all messages${stopChannel === undefined ? '' : ` by ${stopChannel}`}, confirmed once.`]
      : []),
    ...(stopDoubtful ? ['May mean stop: automatic messages wait until a person has looked.'] : []),
    ...(personOnly ? ['Somebody is gravely ill or has died: a person writes, nothing automatic.'] : []),
    ...(labels.some(opensCase) ? ['Opens a case on the bench, or joins the one that is open.'] : []),
    ...(urgent || stop || personOnly
      ? []
      : asks.map((ask) => {
          const one = kept.find((answer) => answer.ask === ask && answer.locale === reading.locale);
          const words = one?.own || one?.ours;
          return words
            ? `Asks ${labelName(ask)}: answered with “${words}”`
            : `Asks ${labelName(ask)}: no kept answer, a person answers.`;
        })),
    ...(weighty ? [`To the tray: ${weighty} weighs, and nothing accounts for it.`] : []),
    ...(nothing && !weighty && !stopDoubtful && !personOnly
      ? ['To the tray: nothing in it is read as one of the known answers.']
      : []),
  ];
}

const EYES = { R: 'right eye', L: 'left eye', both: 'both eyes' } as const;
const DISTANCES = { far: 'far off', arm: 'at arm’s length', near: 'near' } as const;

function extentLines({ trend, eye, distances, tasks, day }: Extent): string[] {
  const said = [
    ...(trend ? [`${trend} than before`.replace('same than', 'same as')] : []),
    ...(eye ? [EYES[eye]] : []),
    ...(distances ?? []).map((one) => DISTANCES[one]),
    ...(tasks ?? []),
    ...(day === undefined ? [] : [`day ${day}`]),
  ];
  return said.length === 0 ? [] : [`How and where: ${said.join(', ')}.`];
}

const correctionOf = (row: CorrectionRow, now: Date, zone: string): WordsView['corrections'][number] => ({
  when: shortTime(row.at, now, zone),
  by: row.by_name,
  words: row.body,
  lang: row.locale === 'es' ? 'es' : 'en',
  before: row.labels_before.map(labelName),
  after: row.labels_after.map(labelName),
  why: row.why ?? '',
});

function keptOf(shop: Shop, locale: 'en' | 'es', refused: Refused | undefined): WordsView['kept'] {
  return {
    ending: OR_SHALL_WE_RING[locale],
    otherHref: `/words?locale=${locale === 'es' ? 'en' : 'es'}#kept`,
    otherWords: locale === 'es' ? 'The English ones.' : 'The Spanish ones.',
    answers: keptAnswers(shop)
      .filter((one) => one.locale === locale)
      .map(({ ask, own, ours }) => ({
        ask,
        about: ABOUT[ask] ?? ask,
        own: refused?.ask === ask ? refused.text : own,
        ours,
        trouble:
          refused?.ask === ask ? refused.problems.map(({ what, mend }) => `${what} ${mend}`).join(' ') : null,
      })),
  };
}

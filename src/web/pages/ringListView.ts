import type { CallSheetView } from '../../../dashboard/call-sheet/view.ts';
import type { RingListView, RingRow } from '../../../dashboard/ring-list/view.ts';
import { questionIn } from '../../../templates/renderMessage.ts';
import type { Question } from '../../../templates/types.ts';
import { daysBetween, localDay } from '../../followup/planSlots.ts';
import { type RingEntry, type RingReason, ringEntryOf, ringList } from '../../followup/ringList.ts';
import { localeOf } from '../../followup/words.ts';
import { findCase, openCaseOf } from '../../store/cases.ts';
import type { Db } from '../../store/database.ts';
import { designOf, findJob, pairsOf } from '../../store/jobs.ts';
import { talkOf } from '../../store/pages/case.ts';
import type { RingAttemptRow } from '../../store/ringList.ts';
import type { Shop } from '../../store/shops.ts';
import { findWearer } from '../../store/wearers.ts';
import { localTimes, readable, shortTime } from '../format.ts';
import { ACT_WORDS, channelWords, markedWords, pairWords } from './views.ts';

/** Signs that end a call about glasses: after the College of Optometrists, Annex 4, urgency of referrals. */
const LISTEN_FOR = [
  'new flashes, many new specks, a curtain or shadow',
  'sudden loss of sight or double sight',
  'a painful red eye, or something that got into it',
  'sudden headache with changed sight, a drooping face, weakness or numbness',
  'a fall, or a near miss at the wheel',
];

export async function loadRingList(db: Db, shop: Shop, now: Date): Promise<RingListView> {
  return { rows: (await ringList(db, shop, now)).map((entry) => ringRow(entry, shop, now)) };
}

function ringRow(entry: RingEntry, shop: Shop, now: Date): RingRow {
  return {
    ringId: entry.wearerId,
    wearer: entry.wearer,
    wearerHref: `/wearers/${entry.wearerId}`,
    phone: entry.phone === null ? null : readable(entry.phone),
    localTime: localTimes(now, entry.zones),
    // Somebody in danger is rung at any hour.
    civil: entry.civil || entry.reasons.some((one) => one.kind === 'danger'),
    why: whyWords(entry.reasons, shop, now),
    promisedBy: promiseWords(entry, shop, now),
    overdue: entry.overdue,
    attempts: entry.attempts.map((one) => attemptWords(one, shop, now)),
    writeInstead: writeWords(entry),
  };
}

export function whyWords(reasons: readonly RingReason[], shop: Shop, now: Date): string {
  const words = reasons.map((reason) => reasonWords(reason, shop, now)).join('; ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function reasonWords({ kind, since, detail }: RingReason, shop: Shop, now: Date): string {
  switch (kind) {
    case 'danger':
      return 'may be in danger: ring now';
    case 'asked':
      return `asked to be rung, ${shortTime(since, now, shop.time_zone)}`;
    case 'act':
      return `${(ACT_WORDS[detail ?? ''] ?? 'talk it through').toLowerCase()}, by phone`;
    case 'unreached':
      return `messages do not reach them: ${detail}`;
    case 'foretold':
      return `trouble is likely: ${detail}`;
    case 'no word': {
      const days = daysBetween(detail ?? '', localDay(now, shop.time_zone));
      return `posted ${days} days ago, no word`;
    }
    case 'check-in':
      return detail === 'have they come'
        ? 'have they come? likes to be rung'
        : detail === '0'
          ? 'has the glasses now; likes to be rung'
          : `day ${detail}; likes to be rung`;
  }
}

function promiseWords(entry: RingEntry, shop: Shop, now: Date): string {
  if (entry.promisedBy === null || entry.reasons[0]?.kind === 'danger') return '';
  const by = shortTime(entry.promisedBy, now, shop.time_zone);
  return entry.overdue ? `Was promised by ${by}` : `Promised by ${by}`;
}

const WHAT_WORDS: Readonly<Record<RingAttemptRow['what'], string>> = {
  spoke: 'spoke',
  'no answer': 'no answer',
  'left message': 'left name and number',
  'wrong number': 'wrong number',
  'again at': 'ring again',
};

function attemptWords(attempt: RingAttemptRow, shop: Shop, now: Date): string {
  const again = attempt.again_at ? ` ${shortTime(attempt.again_at, now, shop.time_zone)}` : '';
  const note = attempt.note ? `: ${attempt.note}` : '';
  return `${shortTime(attempt.at, now, shop.time_zone)} ${WHAT_WORDS[attempt.what]}${again}, ${attempt.by_name}${note}`;
}

function writeWords(entry: RingEntry): string | null {
  switch (entry.writeInstead) {
    case 'three tries':
      return 'Three times without speaking: write a letter or an email.';
    case 'wrong number':
      return 'The number is somebody else’s: write a letter or an email, and ask for the right one.';
    case 'no number':
      return 'No number is known: write a letter or an email.';
    case null:
      return null;
  }
}

/** What to say, ask and tap while speaking with one wearer. */
export async function loadCallSheet(
  db: Db,
  shop: Shop,
  wearerId: string,
  me: string,
  now: Date,
): Promise<CallSheetView | undefined> {
  const shopId = shop.shop_id;
  const entry = await ringEntryOf(db, shop, wearerId, now);
  if (!entry) return undefined;
  const [pair] = await pairsOf(db, shopId, [wearerId]);
  const file =
    entry.caseId === null
      ? pair && (await openCaseOf(db, shopId, pair.pair_id))
      : await findCase(db, shopId, entry.caseId);
  const job = pair && (await findJob(db, shopId, pair.job_id));
  const design = job && (await designOf(db, shopId, job.design_id));
  const talk = await talkOf(db, shopId, wearerId, 1);
  const last = talk.inbound[0];
  const reading = last && talk.readings.findLast((one) => one.inbound_id === last.inbound_id);
  const day = pair && daysBetween(pair.first_worn_on, localDay(now, entry.zones[0] ?? shop.time_zone));
  return {
    ringId: wearerId,
    caseId: file?.case_id ?? null,
    wearer: entry.wearer,
    phone: entry.phone === null ? null : readable(entry.phone),
    localTime: localTimes(now, entry.zones),
    pair: pair
      ? `${sentence(pairWords(design?.name ?? 'design not known', job?.first_multifocal ?? null))}; day ${day}`
      : 'No pair handed over yet',
    why:
      entry.reasons.length === 0
        ? 'Not on the ring list'
        : withPromise(entry, whyWords(entry.reasons, shop, now), shop, now),
    listenFor: LISTEN_FOR,
    opening: `This is ${me.split(' ')[0]} from ${shop.name}, about your new glasses. Is it a good moment?`,
    lastWords: last
      ? {
          words: markedWords(last.body, reading?.spans as never, reading?.left_over as never),
          when: `${shortTime(last.received_at, now, shop.time_zone)}, ${channelWords(last.channel)}`,
        }
      : null,
    question: file && !file.danger ? await spokenQuestion(db, shopId, wearerId, file.question) : null,
    voiceMessage: shop.settings.phone
      ? `On a voice message only our name and number: “${shop.name}, please ring ${shop.settings.phone}.”`
      : 'On a voice message only our name and number. The shop’s number is not set yet: set it on the Shop page.',
    attempts: entry.attempts.map((one) => attemptWords(one, shop, now)),
  };
}

/** The question in the wearer's language: that is how it is put on the telephone. */
async function spokenQuestion(
  db: Db,
  shopId: string,
  wearerId: string,
  question: unknown,
): Promise<CallSheetView['question']> {
  const wearer = await findWearer(db, shopId, wearerId);
  return question && wearer ? questionIn(localeOf(wearer), question as Question) : null;
}

const sentence = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

const withPromise = (entry: RingEntry, why: string, shop: Shop, now: Date): string => {
  const promise = promiseWords(entry, shop, now);
  return promise === '' ? why : `${why}. ${promise}`;
};

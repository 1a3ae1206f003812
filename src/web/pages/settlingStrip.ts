import type { StripMark, StripStretch } from '../../../dashboard/pictures/strip/view.ts';
import { TROUBLES } from '../../followup/troubles.ts';
import type { Label } from '../../replies/types.ts';
import type { ActRow, CheckInRow, Happenings, MessageRow, ReplyRow } from '../../store/pages/wearers.ts';
import { shortDay } from '../format.ts';
import { ACT_WORDS, labelName } from './views.ts';

const LAST_DAY = 30;

export type StripPair = {
  readonly pair_id: string;
  readonly wearer_id: string;
  readonly first_worn_on: string;
  readonly first_worn_how: string;
  readonly handed_over_on: string;
  readonly plan_state: string | null;
  readonly plan_why: string | null;
  readonly outcome: string | null;
  readonly outcome_on: string | null;
  readonly case_danger: boolean | null;
};

export type Strip = {
  /** Day of wear today; null while the glasses are not known to have come. */
  readonly day: number | null;
  readonly marks: readonly StripMark[];
  readonly stretches: readonly StripStretch[];
  /** How it stands, in one short line. */
  readonly standing: string;
};

/** The first thirty days of a pair from what was sent, answered, done and decided; days by the wearer's own calendar. */
export function settlingStrip(pair: StripPair, all: Happenings, zone: string, now: Date): Strip {
  const day = (at: Date) => daysFrom(pair.first_worn_on, dayIn(at, zone));
  const today = day(now);
  const checkIns = all.checkIns.filter((one) => one.pair_id === pair.pair_id);
  const mine = <T extends { wearer_id: string; pair_id: string | null }>(rows: readonly T[]) =>
    rows.filter((one) => one.wearer_id === pair.wearer_id && one.pair_id === pair.pair_id);
  const replies = mine(all.replies);
  const messages = mine(all.messages);
  const acts = all.acts.filter((one) => one.pair_id === pair.pair_id);
  const notKnown = pair.first_worn_how === 'reckoned';
  const standing = standingOf(pair, { checkIns, messages, replies }, day, notKnown);
  if (notKnown || today < 0) return { day: null, marks: [], stretches: [], standing };
  const marks = [
    ...messages.flatMap((one) => messageMark(one, day(one.created_at))),
    ...checkIns.flatMap((one) => plannedMark(one, pair.first_worn_on)),
    ...replies.map((one) => replyMark(one, day(one.received_at))),
    ...acts.flatMap((one) => actMark(one, day(one.at))),
    ...outcomeMark(pair),
  ];
  return { day: today, marks: onePerDay(marks), stretches: stretchesOf(pair, replies, day, today), standing };
}

/** A planned tick and its sending fall on one day; of each kind one mark a day is enough to see. */
function onePerDay(marks: readonly StripMark[]): StripMark[] {
  const seen = new Map<string, StripMark>();
  for (const mark of marks) {
    if (mark.day < 0 || mark.day > LAST_DAY) continue;
    const key = `${mark.day} ${mark.kind}`;
    const held = seen.get(key);
    seen.set(key, held ? { ...held, words: `${held.words}; ${mark.words}` } : mark);
  }
  return [...seen.values()];
}

const WENT = new Set(['handed over', 'accepted', 'delivered']);

function messageMark(message: MessageRow, day: number): StripMark[] {
  const on = `day ${day}`;
  const what = message.written_by
    ? `${message.written_by} wrote`
    : message.purpose === 'question'
      ? 'asked a question'
      : 'sent';
  if (message.state !== null && WENT.has(message.state))
    return [{ day, kind: 'sent', words: `${on}: ${what}` }];
  if (message.state === 'planned' || message.state === 'claimed')
    return [{ day, kind: 'planned', words: `${on}: about to leave` }];
  const why = message.why ? `, ${message.why}` : '';
  const how = message.state === 'unsure' || message.state === null ? 'may not have arrived' : message.state;
  return [{ day, kind: 'may not have arrived', words: `${on}: ${how}${why}` }];
}

function plannedMark(checkIn: CheckInRow, dayZero: string): StripMark[] {
  if (checkIn.state !== 'planned') return [];
  const day = daysFrom(dayZero, checkIn.due_on);
  return [{ day, kind: 'planned', words: `day ${day}, ${shortDay(checkIn.due_on)}: planned` }];
}

const DANGER: ReadonlySet<string> = new Set(['urgent-eye', 'fall-or-injury']);

type ReplyKind = 'danger' | 'trouble' | 'settled' | 'answered' | 'rang';

function kindOf(reply: ReplyRow): ReplyKind {
  const labels = reply.labels ?? [];
  if (reply.urgent === true || labels.some((label) => DANGER.has(label))) return 'danger';
  if (labels.some((label) => TROUBLES.has(label as Label))) return 'trouble';
  if (labels.includes('settled')) return 'settled';
  return reply.channel === 'phone' || reply.channel === 'counter' ? 'rang' : 'answered';
}

function replyMark(reply: ReplyRow, day: number): StripMark {
  return { day, kind: kindOf(reply), words: `day ${day}: “${shortened(reply.body)}”` };
}

function actMark(act: ActRow, day: number): StripMark[] {
  if (act.kind !== 'act') return [];
  const chosen = String(act.detail.act ?? '');
  const way = typeof act.detail.way === 'string' && act.detail.way !== '' ? `, ${act.detail.way}` : '';
  return [{ day, kind: 'act', words: `day ${day}: ${ACT_WORDS[chosen] ?? chosen}${way}` }];
}

const SETTLED: ReadonlySet<string> = new Set(['settled', 'settled after adjusting']);

function outcomeMark(pair: StripPair): StripMark[] {
  if (pair.outcome === null || pair.outcome_on === null) return [];
  const day = daysFrom(pair.first_worn_on, pair.outcome_on);
  return [{ day, kind: SETTLED.has(pair.outcome) ? 'settled' : 'act', words: `day ${day}: ${pair.outcome}` }];
}

type DayOf = (at: Date) => number;

/** How the wearer was, from day to day: what the newest words before that day said. */
function stretchesOf(
  pair: StripPair,
  replies: readonly ReplyRow[],
  day: DayOf,
  today: number,
): StripStretch[] {
  const turns: { day: number; kind: StripStretch['kind'] }[] = [{ day: 0, kind: 'wearing' }];
  for (const reply of replies) {
    const kind = turnOf(reply);
    if (kind !== undefined) turns.push({ day: day(reply.received_at), kind });
  }
  let last = Math.min(today, LAST_DAY);
  if (pair.outcome !== null && pair.outcome_on !== null) {
    const on = daysFrom(pair.first_worn_on, pair.outcome_on);
    if (SETTLED.has(pair.outcome)) turns.push({ day: on, kind: 'settled' });
    else last = Math.min(last, on);
  }
  const stretches: StripStretch[] = [];
  for (const [index, turn] of turns.entries()) {
    const next = turns[index + 1];
    const fromDay = Math.max(0, turn.day);
    const toDay = Math.min(next ? Math.max(0, next.day) : last, last);
    const before = stretches.at(-1);
    if (toDay <= fromDay) continue;
    if (before && before.kind === turn.kind && before.toDay === fromDay)
      stretches[stretches.length - 1] = { ...before, toDay };
    else stretches.push({ fromDay, toDay, kind: turn.kind });
  }
  return stretches;
}

function turnOf(reply: ReplyRow): StripStretch['kind'] | undefined {
  const labels = reply.labels ?? [];
  if (labels.includes('not-wearing')) return 'not worn';
  const kind = kindOf(reply);
  if (kind === 'danger' || kind === 'trouble') return 'trouble';
  if (kind === 'settled') return 'settled';
  return labels.includes('getting-there') ? 'wearing' : undefined;
}

function standingOf(
  pair: StripPair,
  { checkIns, messages, replies }: Pick<Happenings, 'checkIns' | 'messages' | 'replies'>,
  day: DayOf,
  notKnown: boolean,
): string {
  if (pair.case_danger === true) return 'danger sign: a person rings';
  if (pair.outcome !== null) return `${pair.outcome}, ${shortDay(pair.outcome_on ?? pair.handed_over_on)}`;
  const reply = replies.at(-1);
  if (notKnown && reply === undefined)
    return `posted ${shortDay(pair.handed_over_on)}, not known to have come`;
  if (reply !== undefined) {
    const labels = reply.labels ?? [];
    const said = labels.find((label) => TROUBLES.has(label as Label)) ?? labels[0];
    const how = reply.channel === 'phone' || reply.channel === 'counter' ? 'spoke' : 'answered';
    const when = notKnown ? '' : ` day ${day(reply.received_at)}`;
    return `${how}${when}: ${said === undefined ? `“${shortened(reply.body)}”` : lower(labelName(said))}`;
  }
  if (checkIns.some((one) => one.state === 'to ring')) return 'to be rung: prefers the phone';
  const sent = messages.findLast((one) => one.asks);
  if (sent !== undefined) {
    if (sent.state !== null && WENT.has(sent.state))
      return `written to on day ${day(sent.created_at)}, no answer yet`;
    if (sent.state === 'planned' || sent.state === 'claimed') return 'a message is about to leave';
    return `may not have arrived${sent.why ? `: ${sent.why}` : ''}`;
  }
  if (pair.plan_state === 'ended') return `not asked: ${pair.plan_why ?? 'the plan has ended'}`;
  const next = checkIns.find((one) => one.state === 'planned');
  if (next) return `first question ${shortDay(next.due_on)}`;
  const dropped = checkIns.find((one) => one.state === 'dropped' && one.why !== null);
  return dropped ? `not asked: ${dropped.why}` : 'nothing is planned';
}

const lower = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1);

const shortened = (text: string): string => {
  const line = text.replace(/\s+/g, ' ').trim();
  return line.length > 60 ? `${line.slice(0, 59)}…` : line;
};

const calendars = new Map<string, Intl.DateTimeFormat>();

/** The calendar day of an instant in a zone. A page asks this some hundred times, so the calendars are kept. */
export function dayIn(at: Date, zone: string): string {
  let calendar = calendars.get(zone);
  if (!calendar) {
    calendar = new Intl.DateTimeFormat('en-CA', {
      timeZone: zone,
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
    });
    calendars.set(zone, calendar);
  }
  return calendar.format(at);
}

const DAY_MS = 86_400_000;

/** Calendar days from one day to another. */
export const daysFrom = (from: string, to: string): number =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS);

import { Temporal } from 'temporal-polyfill';
import type { Reading } from '../replies/types.ts';

export type Medium = 'text' | 'email';

export type StopInput = {
  readonly reading: Pick<
    Reading,
    | 'labels'
    | 'stop'
    | 'stopChannel'
    | 'stopDoubtful'
    | 'urgent'
    | 'asks'
    | 'leftOver'
    | 'bareAnswer'
    | 'personOnly'
  >;
  /** The words as they came, for the few that a carrier gives a meaning of its own. */
  readonly text: string;
  readonly channel: Medium;
  /** The wearer has said stop before and has not taken it back. */
  readonly optedOut: boolean;
  /** Set when the carrier has matched the word and answered it by itself. */
  readonly optOutType?: 'STOP' | 'HELP' | 'START' | null | undefined;
  /** The last thing that was sent to this wearer. */
  readonly lastSent?: string | undefined;
};

export type StopDecision = {
  readonly action: 'stop' | 'start' | 'help' | 'hold-for-person' | 'none';
  /** What stops: the channel that the words name, else all. What starts, or is a wrong number: the one it came by. */
  readonly channels: readonly Medium[];
  /** At most one, at once, and it only confirms. Source: 47 CFR 64.1200(a)(12) (read as quoted). */
  readonly confirm: boolean;
  readonly numberBad: boolean;
  readonly urgent: boolean;
  readonly reachesPerson: boolean;
};

/** A confirmation within five minutes is presumed to be within consent. Source: 47 CFR 64.1200(a)(12) (read as quoted). */
export const CONFIRM_WITHIN_MINUTES = 5;

const ALL: readonly Medium[] = ['text', 'email'];

/**
 * What a message does to the consent of its sender. Any clear wish on any channel is obeyed at once, for the channel that
 * it names, else for all; a doubtful one holds automatic messages until a person has looked; danger in the same message
 * still reaches a person. START, or a bare yes, counts only from someone who is stopped; from anyone else it is an answer.
 * Source: 47 CFR 64.1200(a)(10) to (12) and CTIA Messaging Principles 2023 section 5.1.3 (both read as quoted).
 */
export function decideStop(input: StopInput): StopDecision {
  const { reading, optOutType } = input;
  const has = (label: Reading['labels'][number]) => reading.labels.includes(label);
  const bare = bareWord(input.text);
  const carrierAnswered = optOutType !== undefined && optOutType !== null;
  const troubled = reading.labels.some((label) => !QUIET_LABELS.has(label)) || reading.asks.length > 0;
  // What the sorter cannot account for goes to the tray, where a person reads it.
  const unread = reading.leftOver.length > 0 || (reading.labels.length === 0 && !reading.bareAnswer);
  const otherwise = {
    channels: [],
    confirm: false,
    numberBad: false,
    urgent: reading.urgent,
    reachesPerson: reading.urgent || troubled || unread || reading.personOnly,
  };

  if (has('wrong-number')) {
    // Whoever writes is not the wearer: this address is not used again, and of others nothing is said.
    const confirm = !input.optedOut && !carrierAnswered;
    const channels = [input.channel];
    return { ...otherwise, action: 'stop', channels, confirm, numberBad: true, reachesPerson: true };
  }
  if (reading.stop || optOutType === 'STOP' || BARE_STOPS.has(bare)) {
    const appointment = input.lastSent !== undefined && bare === 'cancel' && APPOINTMENT.test(input.lastSent);
    return {
      ...otherwise,
      action: 'stop',
      channels: reading.stopChannel ? [reading.stopChannel] : ALL,
      // After a death or a grave illness nothing automatic is said any more; a person writes.
      confirm: !input.optedOut && !carrierAnswered && !reading.personOnly,
      reachesPerson: otherwise.reachesPerson || appointment,
    };
  }
  if (reading.stopDoubtful) return { ...otherwise, action: 'hold-for-person', reachesPerson: true };
  const resumes = has('resume') || optOutType === 'START' || LIFTS_A_STOP.has(bare);
  if (input.optedOut && resumes) {
    // Consent is by channel: a start by text says nothing of emails.
    return { ...otherwise, action: 'start', channels: [input.channel], confirm: !carrierAnswered };
  }
  if (!reading.urgent && (has('help') || optOutType === 'HELP')) {
    return { ...otherwise, action: 'help', confirm: !carrierAnswered };
  }
  return { ...otherwise, action: 'none' };
}

/** Labels that by themselves need nobody. */
const QUIET_LABELS: ReadonlySet<Reading['labels'][number]> = new Set([
  'settled',
  'getting-there',
  'stop',
  'resume',
  'help',
] as const);

/** Carrier practice: START and UNSTOP lift the block, and YES on some. */
const LIFTS_A_STOP = new Set(['start', 'unstop', 'yes', 'comenzar', 'empezar', 'reanudar', 'continuar']);

/**
 * Whole messages that can mean nothing else, however they are spelt: letters with dots or spaces between them, letters of
 * another alphabet that look the same, a picture or a number beside the word. Words of both languages; common practice.
 */
const BARE_STOPS = new Set([
  ...[
    'stop',
    'stop both',
    'stop everything',
    'stop it all',
    'stop them all',
    'stop them',
    'stop to end',
    'reply stop',
  ],
  ...[
    'i said stop',
    'i asked you to stop',
    'i told you to stop',
    'un subscribe',
    'stop msging',
    'stop msging me',
  ],
  ...[
    'enough already with the texts',
    'enough with the texts',
    'enough with the messages',
    'stop stop',
    'text stop',
  ],
  ...[
    'parar',
    'pare',
    'paren',
    'para ya',
    'paren ya',
    'cancelar',
    'baja',
    'detener',
    'detengan',
    'fin',
    'alto',
    'basta',
  ],
]);
const APPOINTMENT =
  /\b(?:appointment|see you|visit|come in|friday|monday|tuesday|wednesday|thursday|saturday|sunday|at \d)/i;

/** The letters of a message and nothing else, words apart by one space; letters that stand alone in a row are one word. */
function bareWord(text: string): string {
  const words = [...text.normalize('NFKC').toLowerCase()]
    .map((letter) => LOOKS_LIKE[letter] ?? letter)
    .join('')
    .replace(/[^\p{L}\p{M}]+/gu, ' ')
    .trim();
  return /^\p{L}(?: \p{L}){2,}$/u.test(words) ? words.replaceAll(' ', '') : words;
}

/** Letters of the Cyrillic and Greek alphabets that look like Latin ones (Unicode Technical Standard 39, confusables). */
const LOOKS_LIKE: Readonly<Record<string, string>> = {
  ...{
    а: 'a',
    в: 'b',
    е: 'e',
    к: 'k',
    м: 'm',
    н: 'h',
    о: 'o',
    р: 'p',
    с: 'c',
    т: 't',
    у: 'y',
    х: 'x',
    ѕ: 's',
    і: 'i',
  },
  ...{ ο: 'o', ρ: 'p', τ: 't', ς: 's', ν: 'v', ι: 'i', υ: 'u' },
};

/**
 * The last day on which a stop could lawfully be obeyed: ten business days after the day it came, weekends and federal
 * holidays left out. We stop at once; the date stands in the record. Source: 47 CFR 64.1200(a)(10) (read as quoted).
 */
export function latestLawfulStop(receivedOn: string, holidays: readonly string[]): string {
  let day = Temporal.PlainDate.from(receivedOn);
  for (let left = 10; left > 0; ) {
    day = day.add({ days: 1 });
    if (day.dayOfWeek <= 5 && !holidays.includes(day.toString())) left -= 1;
  }
  return day.toString();
}

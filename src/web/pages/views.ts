import type {
  ActOffer,
  Deadline as DeadlineView,
  Mark,
  MarkedWords,
} from '../../../dashboard/pieces/view.ts';
import type { Deadline } from '../../followup/deadlines.ts';
import { labelMeanings } from '../../replies/labels.ts';
import type { Label } from '../../replies/types.ts';
import { shortDay } from '../format.ts';

/** Words on buttons for the acts that the ranking suggests. */
export const ACT_WORDS: Readonly<Record<string, string>> = {
  coach: 'Talk it through',
  adjust: 'Adjust',
  're-measure': 'Measure again',
  'check-order': 'Check the order',
  remake: 'Make again',
  prescriber: 'To the prescriber',
  urgent: 'Ring now',
};

export const WAYS = ['at the shop', 'by post', 'by phone', 'at an optician near the wearer'] as const;

const isLabel = (name: string): name is Label => name in labelMeanings;
const URGENT: ReadonlySet<string> = new Set(['urgent-eye', 'fall-or-injury']);

export const labelName = (label: string): string =>
  isLabel(label) ? labelMeanings[label].name : label.replaceAll('-', ' ');

/** A wearer's words with the passages underlined that were read as something. */
export function markedWords(
  text: string,
  spans: readonly { label: string; start: number; end: number }[] | null,
  leftOver: readonly { start: number; end: number }[] | null,
  lang: 'en' | 'es' = 'en',
): MarkedWords {
  const marks: Mark[] = [
    ...(spans ?? []).map(
      ({ label, start, end }): Mark => ({
        start,
        end,
        means: labelName(label),
        kind: URGENT.has(label) ? 'danger' : 'label',
      }),
    ),
    ...(leftOver ?? []).map(
      ({ start, end }): Mark => ({ start, end, means: 'weighty, and not accounted for', kind: 'left over' }),
    ),
  ];
  return { text, lang, marks: marks.sort((a, b) => a.start - b.start || b.end - a.end) };
}

export function deadlineView(deadline: Deadline): DeadlineView {
  const { whose, lastDay, daysLeft, days, from, start, atWorst } = deadline;
  return {
    name: whose === 'lab' ? 'the lab’s remake window' : 'our promise to the wearer',
    daysLeft,
    lastDay: shortDay(lastDay),
    counted: atWorst
      ? `${days} days from “${from}”, which is not on record; counted from ${shortDay(start)}, the earliest date known`
      : `${days} days from “${from}”, ${shortDay(start)}`,
    atWorst,
  };
}

export const pairWords = (design: string, first: boolean | null): string =>
  first === true ? `first multifocal, ${design}` : first === false ? `multifocal before, ${design}` : design;

export function actOffer(
  act: string | null,
  way: string | null,
  why: string | null,
  caseId: string,
): ActOffer | null {
  if (act === null || way === null) return null;
  return { act, words: ACT_WORDS[act] ?? act, way, why: why ?? '', opensAt: `/cases/${caseId}` };
}

export const channelWords = (channel: string): string =>
  ({
    text: 'by text',
    email: 'by email',
    phone: 'on the phone',
    counter: 'at the counter',
    page: 'on the page',
  })[channel] ?? channel;

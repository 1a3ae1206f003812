export type LinkState = 'good' | 'expired' | 'altered' | 'unknown';

export type LinkVisit = {
  readonly method: string;
  readonly link: LinkState;
  /** The tap or the words that a form sent; null when it sent none. */
  readonly answer: string | null;
  /** Answers stored under this link before, oldest first. */
  readonly before: readonly string[];
  /** Nobody is waiting for an answer any more. */
  readonly caseClosed: boolean;
};

export type LinkOutcome = {
  readonly status: 200 | 400 | 404 | 405 | 410;
  /** What is stored as a new reply, beside the earlier ones; null when nothing is. */
  readonly store: string | null;
  /** The question, with what was answered so far; thanks; or how to reach the shop. */
  readonly shows: 'question' | 'thanks' | 'how to reach us' | 'nothing';
  /** A closed case does not open by itself: a person looks. */
  readonly reachesPerson: boolean;
};

/**
 * What comes of opening an answer link. GET and HEAD store nothing, whoever follows the link: scanners do, and some run
 * scripts, so no form of ours submits itself (RFC 9110 section 9.2.1). The same answer again changes nothing; another
 * answer is kept beside the first. A link that is not ours tells nothing about anyone.
 */
export function openAnswerLink(visit: LinkVisit): LinkOutcome {
  const nothing = { store: null, reachesPerson: false } as const;
  if (visit.link === 'altered' || visit.link === 'unknown')
    return { ...nothing, status: 404, shows: 'nothing' };
  if (visit.link === 'expired') return { ...nothing, status: 410, shows: 'how to reach us' };
  const method = visit.method.toUpperCase();
  if (method === 'GET' || method === 'HEAD') return { ...nothing, status: 200, shows: 'question' };
  if (method !== 'POST') return { ...nothing, status: 405, shows: 'nothing' };
  const answer = visit.answer?.trim() ?? '';
  if (answer === '') return { ...nothing, status: 400, shows: 'question' };
  if (visit.before.at(-1) === answer) return { ...nothing, status: 200, shows: 'thanks' };
  return { status: 200, store: answer, shows: 'thanks', reachesPerson: visit.caseClosed };
}

/** On every page behind a wearer's link. */
export const LINK_HEADERS: Readonly<Record<string, string>> = {
  'Referrer-Policy': 'no-referrer',
  'X-Robots-Tag': 'noindex',
  'Cache-Control': 'no-store',
};

/*
 * GET /wearers            q (name, number, job), show (settling | all), page
 */
import type { StripMark, StripStretch } from '../pictures/strip/view.ts';

export type WearerLine = {
  readonly href: string;
  readonly name: string;
  /** Day of wear of the newest pair; null before it is worn. */
  readonly day: number | null;
  /** "first multifocal, soft 15". */
  readonly pair: string;
  /** How it stands, in words: "answered day 7: getting there". */
  readonly standing: string;
  /** What happened on which day. */
  readonly marks: readonly StripMark[];
  /** How the wearer was between the marks. */
  readonly stretches: readonly StripStretch[];
  /** Case, when one is open. */
  readonly caseHref: string | null;
};

export type WearersView = {
  /** Newest first-worn date last; those in their first 30 days unless `show` is all. */
  readonly lines: readonly WearerLine[];
  /** What was searched for; empty when nothing was. */
  readonly q: string;
  readonly show: 'settling' | 'all';
  /** "1–50 of 212". */
  readonly range: string;
  readonly nextHref: string | null;
  readonly previousHref: string | null;
};

/*
 * GET  /wearers/:id
 * POST /wearers/:id/zone       time_zone (empty: work it out again)
 * POST /wearers/:id/stop       channel (text | email | all), why
 * POST /wearers/:id/prefers    prefers (text | email | phone)
 */
import type { StripMark, StripStretch } from '../pictures/strip/view.ts';
import type { FieldTrouble } from '../pieces/view.ts';

export type WearerView = {
  readonly wearerId: string;
  readonly name: string;
  /** "9:42 their time". */
  readonly localTime: string;
  readonly zone: {
    /** The zone, or the zones that it may be; a message waits until it is a civil hour in all. */
    readonly zones: readonly string[];
    /** "by postcode", "set by Ana", "by country only". */
    readonly how: string;
  };
  readonly timeZones: readonly string[];
  readonly prefers: 'text' | 'email' | 'phone';
  readonly contacts: readonly {
    readonly channel: 'text' | 'email';
    readonly address: string;
    /** "yes, at hand-over 18 Aug, asked by Ana", "stopped 20 Aug in their words", "never asked". */
    readonly consent: string;
    /** Others who share it. */
    readonly sharedWith: readonly string[];
    /** Why it cannot be used, or null. */
    readonly unusable: string | null;
    readonly canStop: boolean;
  }[];
  readonly pairs: readonly {
    readonly words: string;
    readonly jobHref: string;
    readonly jobNumber: string;
    readonly day: number | null;
    readonly firstWorn: string;
    readonly outcome: string | null;
    readonly caseHref: string | null;
    readonly marks: readonly StripMark[];
    readonly stretches: readonly StripStretch[];
    /** What is still planned: "day 14, Tue 1 Sep about 10:00 their time"; empty when nothing. */
    readonly planned: readonly string[];
    /** "running", "paused: a person holds the case", "ended: refunded". */
    readonly plan: string;
  }[];
  /** The last things said, newest first. */
  readonly said: readonly {
    readonly when: string;
    readonly who: string;
    readonly text: string;
    readonly lang: 'en' | 'es';
  }[];
  readonly troubles: readonly FieldTrouble[];
};

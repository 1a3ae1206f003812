/*
 * GET /lens-designs         by (grouping), reasons (settling | all), first, second (two to compare)
 * GET /lens-designs/month   the printable month sheet
 * POST /lens-designs/warning  what, how, on (yes | no): switches a warning at the order on or off
 * GET /lens-designs.csv     the same rates as a file
 * GET /lens-designs/pairs   part, key, at: the pairs behind a number
 */
import type { AdaptPicture } from '../pictures/adapt/view.ts';
import type { DriftPicture } from '../pictures/drift/view.ts';
import type { FunnelPicture } from '../pictures/funnel/view.ts';
import type { MonthsPicture } from '../pictures/months/view.ts';
import type { RatesPicture } from '../pictures/rates/view.ts';

/** A sentence with a number, and the pairs behind it. */
export type Said = {
  readonly sentence: string;
  /** Address of the pairs behind the number; null when there are none to show. */
  readonly href: string | null;
};

export type RateLine = {
  readonly group: string;
  readonly href: string;
  readonly ripe: number;
  readonly back: number;
  /** "5 %", or "too few to say". */
  readonly rate: string;
  /** "2 to 11 %". */
  readonly interval: string;
  /** Drawn toward the shop's rate. */
  readonly shrunken: string;
  /** "9 in 10"; empty while too few. */
  readonly chanceWorse: string;
  readonly verdict: string;
  /** Share of pairs of which an answer came: "41 of 48". */
  readonly followed: string;
  readonly by30: string;
  readonly by60: string;
  readonly by90: string;
};

/** A lean that the order form and the job page can warn of. */
export type OfferedWarning = {
  readonly what: string;
  readonly how: string;
  readonly on: boolean;
  /** What is offered, or what is said at the order now. */
  readonly words: string;
};

export type LensDesignsView = {
  readonly groupings: readonly { readonly value: string; readonly words: string }[];
  readonly by: string;
  readonly reasons: 'settling' | 'all';
  /** "Of 412 pairs handed over, 371 could be followed (90 %)…". */
  readonly denominator: string;
  /** Nothing can be said yet: what is missing; null when something can. */
  readonly tooFew: string | null;
  /** Some pairs are still being summed up: what is shown may be a little behind; empty when nothing is. */
  readonly behind: string;
  /** The few sentences of this month. */
  readonly month: readonly Said[];
  /** Groups with enough pairs, as small pictures; null when none has. */
  readonly strips: RatesPicture | null;
  /** Only by month: the months one after another. */
  readonly months: MonthsPicture | null;
  readonly rates: readonly RateLine[];
  /** How many groups were looked at, and the guard. */
  readonly looks: string;
  readonly funnel: FunnelPicture | null;
  readonly drift: DriftPicture | null;
  readonly adapt: readonly AdaptPicture[];
  readonly adaptUnder: string;
  readonly causes: readonly Said[];
  readonly suggestionRight: readonly Said[];
  readonly money: readonly Said[];
  /** Inputs that are empty and so not counted. */
  readonly notCounted: readonly string[];
  readonly bias: readonly (Said & { readonly warning: OfferedWarning | null })[];
  readonly biasUnder: string;
  readonly compare: {
    readonly groups: readonly string[];
    readonly first: string;
    readonly second: string;
    /** Empty before two are chosen. */
    readonly says: readonly Said[];
  };
};

import type { CaseState, Outcome } from '../store/tables.ts';

/** One step of an invented wearer's story, played through the use case that a person at the shop or the wearer would use. */
export type Step =
  /** The wearer writes, by email where that is what they agreed to, else by text. */
  | { readonly says: string; readonly minutesAgo?: number }
  /** What the wearer said on the telephone, typed in at the shop: an ending of the question, and their own words. */
  | { readonly rung: string; readonly answer?: '1' | '2' | '3' | '4' }
  | { readonly tried: 'no answer' | 'left message' | 'wrong number' }
  /** Measured again at the bench, mm; right and left. */
  | {
      readonly measured: 'cross_above_pupil_mm' | 'cross_nasal_mm';
      readonly right: number;
      readonly left: number;
    }
  | { readonly act: string; readonly way: string; readonly note: string; readonly state: CaseState }
  | { readonly held: true }
  | { readonly wrote: string }
  | { readonly state: CaseState; readonly againInDays?: number }
  | {
      readonly closed: Outcome;
      readonly reason: string | null;
      readonly bears: string | null;
      readonly cause: string | null;
    }
  | { readonly madeAgain: string; readonly bears: string; readonly to?: string }
  /** What lies in the tray of them was read as this by a person. */
  | { readonly read: readonly string[] }
  /** The pair that was made again is handed over. */
  | { readonly againHandedOver: true }
  | {
      readonly claim: 'asked' | 'sent' | 'promised' | 'credited';
      readonly amount?: string;
      readonly backInDays?: number;
    }
  | { readonly signed: 'remake' | 'prescriber'; readonly cause: string }
  | { readonly stopTold: string }
  | { readonly arrived: true };

export type Told = { readonly day: number; readonly hour?: number } & Step;

/** One invented wearer: the job's line as a file would have it, how the pair reached them, and what came of it. */
export type InventedWearer = {
  readonly name: string;
  /** A number reserved for fiction: 555-0100 to 0199 in any area. Two wearers may share one. */
  readonly phone: string;
  readonly email?: string;
  /** What they answered when they were asked at the hand-over. */
  readonly consent: 'text' | 'email' | 'both' | 'no';
  readonly prefers?: 'phone';
  readonly zone: string;
  readonly language?: 'es';
  readonly way?: 'post';
  /** Days before today on which the glasses were handed over or posted; of a pair still in the shop, taken in. */
  readonly daysAgo: number;
  /** Not handed over yet: ordered, or come from the lab; out of limits and held where said. */
  readonly still?: 'ordered' | 'received' | 'held';
  readonly design: string;
  readonly first: boolean;
  readonly bornIn: number;
  readonly lab: string;
  readonly soldBy: string;
  /** Where the cross stood against the pupil at the hand-over, mm above; left out where nobody looked. */
  readonly crossFound?: { readonly R: number; readonly L: number };
  /** Further columns of the full template. */
  readonly facts: Readonly<Record<string, string>>;
  readonly story: readonly Told[];
};

export const EAST = 'America/New_York';
export const CENTRAL = 'America/Chicago';
export const MOUNTAIN = 'America/Denver';
export const WEST = 'America/Los_Angeles';

export const OWNER = 'Ada Example';
export const FITTER = 'Noor Sample';
export const HELPER = 'Tim Demo';

export const NEAR_LAB = 'Lab in the next town (invented)';
export const POST_LAB = 'Lab by post (invented)';

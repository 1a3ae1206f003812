/*
 * GET  /jobs/:id
 * POST /jobs/:id/hand-over   handed_over_on, first_worn_on (optional), consent_text (given | refused), consent_email (given |
 *                            refused), consent_by (who asked), words (the words in which it was asked), slip_test (holds | slides)
 * POST /jobs/:id/date        which (lab_invoiced | received | posted | arrived), on
 * POST /jobs/:id/facts       key, value, eye (R | L | empty), how
 * POST /jobs/:id/sign                                                              (the numbers it came in with)
 * POST /jobs/:id/remake      reason, borne_by, to_design (empty: the same)       (made again without a case)
 */
import type { LensPicture } from '../pictures/lens/view.ts';
import type { TintPicture } from '../pictures/tint/view.ts';
import type { FieldTrouble, FormValues, Trace } from '../pieces/view.ts';

/** One power or place as ordered, as worn (what the lab made it to) and as our lensmeter read it. */
export type CheckLine = {
  /** "R sphere". */
  readonly name: string;
  readonly ordered: string;
  readonly asWorn: string;
  readonly read: string;
  /** "±0.13 D (read at the distance circle)". */
  readonly allowed: string;
  /** "0.07 D left". */
  readonly margin: string;
  readonly verdict: 'pass' | 'out' | 'cannot judge';
  readonly trace: Trace | null;
};

export type JobView = {
  readonly jobId: string;
  readonly jobNumber: string;
  readonly wearer: { readonly name: string; readonly href: string };
  readonly pair: string;
  readonly way: 'counter' | 'post';
  /** Dates kept apart, in their order; empty when not known. */
  readonly dates: readonly {
    readonly which: string;
    readonly name: string;
    readonly on: string;
    readonly canSet: boolean;
  }[];
  readonly facts: readonly {
    readonly name: string;
    /** Its plain sentence, shown on focus. */
    readonly means?: string;
    readonly unit: string;
    readonly right: string;
    readonly left: string;
    readonly both: string;
    readonly from: string;
  }[];
  /** Numbers that can be added, in groups; `unit` and an example stand in the name. */
  readonly factKinds: readonly {
    readonly heading: string;
    readonly kinds: readonly { readonly key: string; readonly name: string }[];
  }[];
  /** What in this job foretells trouble, each with number and threshold. */
  readonly expect: readonly {
    readonly words: string;
    readonly number: string;
    readonly trace: Trace | null;
  }[];
  /** Bench check; empty before anything was read, with the reason in `noCheck`. */
  readonly check: readonly CheckLine[];
  readonly noCheck: string;
  readonly checkVerdict: string;
  readonly picture: LensPicture | null;
  /** Tint against time of a light-reactive design; left out where the lens book lacks its figures. */
  readonly tint?: TintPicture;
  /** Null once it is handed over. */
  readonly handOver: {
    /** Today, for the date field. */
    readonly today: string;
    /** The words in which consent is asked. */
    readonly consentWords: string;
    readonly hasPhone: boolean;
    readonly hasEmail: boolean;
  } | null;
  /** "handed over Tue 18 Aug by Ana; texts yes, email no". */
  readonly handedOver: string;
  readonly papers: readonly { readonly words: string; readonly href: string }[];
  readonly caseHref: string | null;
  /** For making it again without a case; left out when that cannot be (not handed over, a case is open). */
  readonly remake?: {
    readonly reasons: readonly { readonly value: string; readonly words: string }[];
    readonly bearers: readonly { readonly value: string; readonly words: string }[];
    readonly designs: readonly { readonly value: string; readonly words: string }[];
  };
  /** The numbers that it came in with, where they are to be signed; `button` where the person at the screen can do something. */
  readonly unsigned?: { readonly words: string; readonly button: string | null } | null | undefined;
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};

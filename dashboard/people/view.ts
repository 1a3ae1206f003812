/*
 * GET  /people              change (id: the form changes this person)
 * POST /people              name, email, phone, role (staff | owner), licence_number, licensed_until, on_call_order,
 *                           on_call_days, on_call_from, on_call_to (full hours; empty: any hour)
 * POST /people/:id          the same fields
 * POST /people/:id/leave    (no longer here; kept for the record)
 * POST /people/:id/link     factor_lost (yes | empty): a one-time link, shown once in the answer
 * POST /people/:id/sign-out (ends all their sessions)
 * POST /people/tokens       token_name, scopes (several): a token for a program, shown once in the answer
 * POST /people/tokens/:id/revoke
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

type PersonEntry = {
  readonly personId: string;
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly role: 'staff' | 'owner';
  /** "licensed until 30 Jun 2027", "licence ran out 1 Aug", "not licensed". */
  readonly licence: string;
  /** 1 is told first; null when not on call. */
  readonly onCall: number | null;
  readonly active: boolean;
  /** "signs in, with a second factor; signed in now", "cannot sign in yet"; left out in the invented shop. */
  readonly signsIn?: string;
  /** Signed in somewhere now. */
  readonly signedIn?: boolean;
  /** "Mondays to Fridays, 8 to 18"; left out or empty: any hour. */
  readonly onCallHours?: string;
};

export type PeopleView = {
  readonly people: readonly PersonEntry[];
  /** What is wrong with who is on call: "Nobody is on call: an alarm would reach no person."; null when nothing. */
  readonly onCallTrouble: string | null;
  /** Whom the form changes; left out or null where it adds somebody. */
  readonly changing?: { readonly personId: string; readonly name: string } | null;
  /** Made just now and shown this once: a link for somebody, or a token for a program. */
  readonly fresh?: {
    readonly kind: 'link' | 'token';
    readonly whose: string;
    readonly secret: string;
  } | null;
  /** Nobody signs in where nobody is real. */
  readonly signInExists?: boolean;
  /** "Nobody here is marked as licensed…", or null. */
  readonly licenceTrouble?: string | null;
  readonly tokens?: readonly {
    readonly tokenId: string;
    readonly name: string;
    readonly may: string;
    readonly made: string;
    readonly used: string;
  }[];
  readonly scopes?: readonly { readonly value: string; readonly words: string }[];
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};

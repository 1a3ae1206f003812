/*
 * GET  /people              change (id: the form changes this person)
 * POST /people              name, email, phone, role (staff | owner), licence_number, licensed_until, on_call_order,
 *                           on_call_days, on_call_from, on_call_to (full hours; empty: any hour)
 * POST /people/:id          the same fields
 * POST /people/:id/leave    (no longer here; kept for the record)
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
  /** "Mondays to Fridays, 8 to 18"; left out or empty: any hour. */
  readonly onCallHours?: string;
};

export type PeopleView = {
  readonly people: readonly PersonEntry[];
  /** What is wrong with who is on call: "Nobody is on call: an alarm would reach no person."; null when nothing. */
  readonly onCallTrouble: string | null;
  /** Whom the form changes; left out or null where it adds somebody. */
  readonly changing?: { readonly personId: string; readonly name: string } | null;
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};

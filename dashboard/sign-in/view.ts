/*
 * GET  /sign-in                  to (a page of ours to go on to)
 * POST /sign-in                  email, password, to
 * GET  /sign-in/code             after the password, where there is a second factor
 * POST /sign-in/code             code (of the app, or a recovery code)
 * GET  /sign-in/link/:secret     a one-time link: the owner's own, an invitation, or a new password
 * POST /sign-in/link/:secret     name, email, password, password_again
 * GET  /sign-in/second-factor    sets up the second factor
 * POST /sign-in/second-factor    code; answers with the recovery codes, shown once
 * POST /sign-out
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

type Around = {
  readonly csrf: string;
  readonly shopName: string;
  readonly troubles: readonly FieldTrouble[];
};

export type SignInView = Around & {
  readonly values: FormValues;
  /** A page of ours to go on to. */
  readonly to: string;
  /** Nobody has set a password yet: the owner's one-time link comes first. */
  readonly nobodyYet: boolean;
};

export type CodeView = Around;

export type JoinView = Around & {
  readonly action: string;
  readonly values: FormValues;
};

export type FactorView = Around & {
  /** The secret in groups of four letters, to be typed into the app. */
  readonly secret: string;
  /** What the app reads from the picture, as rows of dark (true) and light squares, with its light edge. */
  readonly squares: readonly (readonly boolean[])[];
  /** Whether one may go on without: only at the shop's own machine. */
  readonly mayWait: boolean;
};

export type CodesView = {
  readonly shopName: string;
  /** Recovery codes, each for one use. */
  readonly codes: readonly string[];
};

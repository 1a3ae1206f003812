/*
 * GET  /my-sign-in
 * POST /my-sign-in/password        current, password, password_again
 * POST /my-sign-in/codes           current: new recovery codes, shown once
 * POST /my-sign-in/factor/remove   current
 * POST /my-sign-in/sessions/:id/end   current
 */
import type { FieldTrouble } from '../pieces/view.ts';

export type SessionEntry = {
  readonly id: string;
  /** "Firefox, Windows". */
  readonly about: string;
  readonly address: string;
  readonly since: string;
  readonly seen: string;
  /** The one that this page is read in. */
  readonly here: boolean;
};

export type MySignInView = {
  readonly email: string;
  readonly passwordSince: string;
  /** "since 3 May", or null without one. */
  readonly factorSince: string | null;
  readonly codesLeft: number;
  readonly sessions: readonly SessionEntry[];
  readonly troubles: readonly FieldTrouble[];
};

/*
 * GET  /claims
 * POST /claims/:jobId    what (asked | sent | promised | credited), amount, send_back_by, reason
 */
import type { FieldTrouble, FormValues } from '../pieces/view.ts';

export type ClaimStepName = 'asked' | 'sent' | 'promised' | 'credited';

export type ClaimLine = {
  readonly jobId: string;
  readonly jobHref: string;
  readonly jobNumber: string;
  readonly wearer: string;
  /** Empty where the job names none. */
  readonly lab: string;
  /** "asked 24 Aug for settling; lenses to go back by 7 Sep", or "nothing asked yet". */
  readonly stands: string;
  readonly reminder: string | null;
  /** Steps that can be noted now; none once it is credited. */
  readonly steps: readonly ClaimStepName[];
};

export type ClaimsView = {
  /** What has to go back soonest first; credited ones of the last weeks at the end. */
  readonly lines: readonly ClaimLine[];
  /** The job whose form was refused; null when none. */
  readonly refused: string | null;
  readonly values: FormValues;
  readonly troubles: readonly FieldTrouble[];
};

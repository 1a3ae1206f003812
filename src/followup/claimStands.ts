import type { Claim } from '../store/claims.ts';
import { addDays, daysBetween } from './planSlots.ts';

export const CLAIM_STEPS = ['asked', 'sent', 'promised', 'credited'] as const;
export type ClaimStep = (typeof CLAIM_STEPS)[number];

/** Lenses that have to go back within so many days are spoken of. Common practice, no source. */
export const REMIND_DAYS = 5;
/** A promise of money older than this is asked after. Common practice, no source. */
export const CREDIT_WAIT_DAYS = 30;

export type ClaimStands = {
  /** Steps that can be noted now, in their order. */
  readonly steps: readonly ClaimStep[];
  readonly reminder:
    | { readonly kind: 'send'; readonly by: string; readonly daysLeft: number }
    | { readonly kind: 'late'; readonly by: string }
    | { readonly kind: 'ask after'; readonly since: string }
    | null;
};

/** What may be noted of a claim on the lab now, and what is to be remembered: pure, by the day. */
export function claimStands(claim: Claim | undefined, today: string): ClaimStands {
  if (!claim) return { steps: ['asked'], reminder: null };
  if (claim.credited_on !== null) return { steps: [], reminder: null };
  const steps: ClaimStep[] = [];
  if (claim.sent_on === null) steps.push('sent');
  if (claim.promised_on === null) steps.push('promised');
  steps.push('credited');
  return { steps, reminder: reminderOf(claim, today) };
}

function reminderOf(claim: Claim, today: string): ClaimStands['reminder'] {
  const { send_back_by: by, sent_on: sent, promised_on: promised } = claim;
  if (by !== null && sent === null) {
    const daysLeft = daysBetween(today, by);
    if (daysLeft < 0) return { kind: 'late', by };
    if (daysLeft <= REMIND_DAYS) return { kind: 'send', by, daysLeft };
  }
  if (promised !== null && addDays(promised, CREDIT_WAIT_DAYS) < today)
    return { kind: 'ask after', since: promised };
  return null;
}

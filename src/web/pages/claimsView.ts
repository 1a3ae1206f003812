import type { CaseView } from '../../../dashboard/case/view.ts';
import type { ClaimLine } from '../../../dashboard/claims/view.ts';
import { type ClaimStands, claimStands } from '../../followup/claimStands.ts';
import { addDays, localDay } from '../../followup/planSlots.ts';
import { type Claim, claimOf, claimsOf, unclaimed } from '../../store/claims.ts';
import type { Db } from '../../store/database.ts';
import type { Shop } from '../../store/shops.ts';
import { shortDay } from '../format.ts';

/** Credited claims stand on the list for so many days more; pairs made again at the lab's cost are looked for so far back. */
const CREDITED_SHOWN_DAYS = 14;
const LOOK_BACK_DAYS = 365;
const MOST = 500;

/** Every claim that is not at its end, with pairs for which nothing was asked yet. */
export async function loadClaims(db: Db, shop: Shop, now: Date): Promise<ClaimLine[]> {
  const shopId = shop.shop_id;
  const today = localDay(now, shop.time_zone);
  const open = await claimsOf(db, shopId, addDays(today, -CREDITED_SHOWN_DAYS), MOST);
  const waiting = await unclaimed(db, shopId, addDays(today, -LOOK_BACK_DAYS), MOST);
  const line = (
    row: { job_id: string; job_key: string; wearer: string; lab: string | null },
    claim: Claim | undefined,
  ): ClaimLine => {
    const stands = claimStands(claim, today);
    return {
      jobId: row.job_id,
      jobHref: `/jobs/${row.job_id}`,
      jobNumber: row.job_key,
      wearer: row.wearer,
      lab: row.lab ?? '',
      stands: standsWords(claim),
      reminder: reminderWords(stands.reminder),
      steps: stands.steps,
    };
  };
  const lines = open.map((row) => line(row, row));
  const reminded = lines.filter((one) => one.reminder !== null);
  const rest = lines.filter((one) => one.reminder === null);
  return [...reminded, ...waiting.map((row) => line(row, undefined)), ...rest];
}

/** The claim for the pair of a case. */
export async function caseClaim(
  db: Db,
  shop: Shop,
  jobId: string,
  now: Date,
): Promise<NonNullable<CaseView['claim']>> {
  const claim = await claimOf(db, shop.shop_id, jobId);
  const { steps, reminder } = claimStands(claim, localDay(now, shop.time_zone));
  return { stands: standsWords(claim), steps, reminder: reminderWords(reminder) };
}

function standsWords(claim: Claim | undefined): string {
  if (!claim) return 'nothing asked yet';
  const parts = [
    claim.asked_on === null ? '' : `asked ${shortDay(claim.asked_on)} for ${claim.reason}`,
    claim.send_back_by === null || claim.sent_on !== null
      ? ''
      : `lenses to go back by ${shortDay(claim.send_back_by)}`,
    claim.sent_on === null ? '' : `sent back ${shortDay(claim.sent_on)}`,
    claim.promised_on === null
      ? ''
      : `promised ${money(claim.promised_amount)} on ${shortDay(claim.promised_on)}`,
    claim.credited_on === null
      ? ''
      : `credited ${money(claim.credited_amount)} on ${shortDay(claim.credited_on)}`,
  ];
  return parts.filter((part) => part !== '').join('; ');
}

const money = (amount: number | null): string => (amount ?? 0).toFixed(2);

function reminderWords(reminder: ClaimStands['reminder']): string | null {
  if (reminder === null) return null;
  if (reminder.kind === 'late')
    return `The lenses should have gone back by ${shortDay(reminder.by)}: send them now, and ask the lab whether it still holds.`;
  if (reminder.kind === 'ask after')
    return `Promised on ${shortDay(reminder.since)} and not credited yet: ask the lab.`;
  const left = reminder.daysLeft === 0 ? 'today is the last day' : `${reminder.daysLeft} days left`;
  return `The lenses have to be on their way by ${shortDay(reminder.by)}: ${left}.`;
}

/** What the bench reminds of: one line for all claims that have come due. */
export async function claimReminders(
  db: Db,
  shop: Shop,
  now: Date,
): Promise<{ readonly words: string; readonly href: string }[]> {
  const lines = await loadClaims(db, shop, now);
  const due = lines.filter((line) => line.reminder !== null);
  const unasked = lines.filter((line) => line.steps.includes('asked'));
  const first = due[0];
  return [
    ...(first
      ? [
          {
            words:
              due.length === 1
                ? `Job ${first.jobNumber}: ${first.reminder}`
                : `${due.length} claims on labs have come due; first job ${first.jobNumber}: ${first.reminder}`,
            href: '/claims',
          },
        ]
      : []),
    ...(unasked.length > 0
      ? [
          {
            words:
              unasked.length === 1
                ? `Job ${unasked[0]!.jobNumber} was made again at the lab’s cost, and the lab has not been asked yet.`
                : `${unasked.length} pairs were made again at the lab’s cost, and the lab has not been asked yet.`,
            href: '/claims',
          },
        ]
      : []),
  ];
}

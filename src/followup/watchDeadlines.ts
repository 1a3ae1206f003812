import { addCaseEvent } from '../store/cases.ts';
import type { Db } from '../store/database.ts';
import { noticeOnce, type OpenCaseDays, openCaseDays } from '../store/deadlineNotices.ts';
import { allShops, type Shop } from '../store/shops.ts';
import { type Deadline, deadlinesOf } from './deadlines.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';

/** A deadline that ends within so many days is spoken of. Common practice, no source. */
export const SPEAK_DAYS = 3;

export type EndingSoon = OpenCaseDays & { readonly deadline: Deadline };

/** Deadlines of open cases that end today or within three days, nearest first. */
export async function endingSoon(db: Db, shop: Shop, now: Date): Promise<EndingSoon[]> {
  const today = localDay(now, shop.time_zone);
  const rows = await openCaseDays(db, shop.shop_id);
  return rows
    .flatMap((row) =>
      deadlinesOf(
        row,
        { first_worn_on: row.first_worn_on, handed_over_on: row.pair_handed_over_on },
        shop.settings,
        row.lab_terms ?? [],
        today,
      ).map((deadline) => ({ ...row, deadline })),
    )
    .filter(({ deadline }) => deadline.daysLeft >= 0 && deadline.daysLeft <= SPEAK_DAYS)
    .sort((a, b) => a.deadline.daysLeft - b.deadline.daysLeft || (a.case_id < b.case_id ? -1 : 1));
}

/**
 * Says once for each pair and deadline, on the case, that it ends within three days; every page of the shop then has a line
 * about it. A date that moves the deadline makes it a new one. Returns how many were said.
 */
export async function watchDeadlines(shell: Shell): Promise<number> {
  const now = shell.clock.now();
  let said = 0;
  for (const shop of await allShops(shell.db)) {
    for (const one of await endingSoon(shell.db, shop, now)) {
      const { whose, lastDay } = one.deadline;
      await shell.db.transaction().execute(async (trx) => {
        if (!(await noticeOnce(trx, shop.shop_id, { pairId: one.pair_id, whose, lastDay }, now))) return;
        said += 1;
        const detail = { text: endsWords(one.deadline), whose, lastDay };
        await addCaseEvent(trx, shop.shop_id, one.case_id, 'note', detail, 'Afterfit', now);
      });
    }
  }
  return said;
}

export function endsWords({ whose, lastDay, daysLeft, atWorst }: Deadline): string {
  const what = whose === 'lab' ? 'the lab’s remake window' : 'our promise to the wearer';
  const left =
    daysLeft === 0 ? 'today is the last day' : daysLeft === 1 ? '1 day left' : `${daysLeft} days left`;
  return `${what} ends on ${lastDay}: ${left}${atWorst ? ', at worst' : ''}`;
}

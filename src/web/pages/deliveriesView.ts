import type { DeliveriesView, DeliveryLine } from '../../../dashboard/deliveries/view.ts';
import { addDays, localDay } from '../../followup/planSlots.ts';
import type { Db } from '../../store/database.ts';
import {
  allJobs,
  countAllJobs,
  countOpenJobs,
  type DeliveryRow,
  foundJobs,
  openJobs,
} from '../../store/pages/deliveries.ts';
import type { Shop } from '../../store/shops.ts';
import { shortDay, shortTime } from '../format.ts';
import { COUNT_AT_MOST, PAGE_SIZE, pageOf, rangeWords, readPaging } from './listPage.ts';
import { soughtBy } from './sought.ts';
import { pairWords } from './views.ts';

/** A parcel that nobody has spoken of for so long is no longer waited for on this list. */
const WAITED_FOR_DAYS = 30;

export type DeliveriesAsked = {
  readonly q: string;
  readonly show: 'open' | 'all';
  readonly page: string | undefined;
};

/** Jobs on their way to a wearer, or all, fifty at a time, newest first. */
export async function loadDeliveries(
  db: Db,
  shop: Shop,
  asked: DeliveriesAsked,
  now: Date,
): Promise<DeliveriesView> {
  const shopId = shop.shop_id;
  const { q, show } = asked;
  const today = localDay(now, shop.time_zone);
  const line = (row: DeliveryRow) => deliveryLine(row, shop, now, Number(today.slice(0, 4)));
  if (q !== '') {
    const found = await foundJobs(db, shopId, soughtBy(q, shop.country), PAGE_SIZE + 1);
    const shown = found.slice(0, PAGE_SIZE);
    const range =
      found.length > PAGE_SIZE
        ? `the first ${PAGE_SIZE}; write more of the name or number`
        : rangeWords(1, shown.length, shown.length);
    return { lines: shown.map(line), q, show, range, nextHref: null, previousHref: null, silentCount: 0 };
  }
  const paging = readPaging(asked.page);
  const since = addDays(today, -WAITED_FOR_DAYS);
  const rows =
    show === 'open'
      ? await openJobs(db, shopId, since, paging.place, PAGE_SIZE + 1)
      : await allJobs(db, shopId, paging.place, PAGE_SIZE + 1);
  const counts =
    show === 'open'
      ? await countOpenJobs(db, shopId, since, COUNT_AT_MOST)
      : await countAllJobs(db, shopId, COUNT_AT_MOST);
  const page = pageOf(
    rows,
    paging,
    counts.total,
    (row) => ({ key: '', id: row.job_id }),
    (at) => `/deliveries?show=${show}&page=${at}`,
  );
  return {
    lines: page.rows.map(line),
    q,
    show,
    range: page.range,
    nextHref: page.nextHref,
    previousHref: page.previousHref,
    silentCount: counts.silent,
  };
}

function deliveryLine(row: DeliveryRow, shop: Shop, now: Date, thisYear: number): DeliveryLine {
  const jobHref = `/jobs/${row.job_id}`;
  return {
    jobHref,
    jobNumber: row.job_key,
    wearer: row.wearer,
    pair: pairWords(row.design, row.first_multifocal),
    way: row.way === 'counter' ? 'at the counter' : 'by post',
    state: stateWords(row, shop, now, thisYear),
    next: nextStep(row, jobHref),
    silent: silentWords(row),
  };
}

const inHand = (row: DeliveryRow): boolean =>
  row.first_worn_how !== null && row.first_worn_how !== 'reckoned';

function stateWords(row: DeliveryRow, shop: Shop, now: Date, thisYear: number): string {
  const on = (day: string) => shortDay(day, thisYear);
  if (row.handed_over_on !== null) return `handed over ${on(row.handed_over_on)}`;
  if (row.arrived_on !== null) return `arrived ${on(row.arrived_on)}`;
  if (inHand(row)) return `worn since ${on(row.first_worn_on!)}`;
  if (row.posted_on !== null) return `posted ${on(row.posted_on)}, not known to have come`;
  if (row.received_on !== null)
    return `received ${on(row.received_on)}${row.checked ? ', bench-checked' : ', to be bench-checked'}`;
  if (row.ordered_on !== null) return `ordered ${on(row.ordered_on)}`;
  return `taken in ${shortTime(row.created_at, now, shop.time_zone)}`;
}

function nextStep(row: DeliveryRow, jobHref: string): DeliveryLine['next'] {
  if (inHand(row)) return null;
  if (row.received_on !== null && row.posted_on === null && !row.checked)
    return { words: 'Bench check', href: `${jobHref}#check-heading` };
  if (row.way === 'counter') return { words: 'Hand over', href: `${jobHref}#hand-heading` };
  return row.posted_on === null
    ? { words: 'Set the day of posting', href: `${jobHref}#dates-heading` }
    : { words: 'Has it arrived?', href: `${jobHref}#hand-heading` };
}

function silentWords(row: DeliveryRow): string | null {
  if (row.has_consent) return null;
  if (!row.has_contact) return 'no number and no address: never messaged';
  if (row.refused) return 'said no or stop: not messaged';
  return inHand(row) ? 'has not agreed: not messaged' : 'has not agreed yet: ask at the hand-over';
}

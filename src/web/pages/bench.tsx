import type { Hono } from 'hono';
import { BenchPage } from '../../../dashboard/bench/page.tsx';
import type { BenchRow, BenchView, DangerRow } from '../../../dashboard/bench/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { orderBench } from '../../causes/benchOrder.ts';
import { causeName } from '../../causes/catalogue/names.ts';
import { deadlinesOf } from '../../followup/deadlines.ts';
import { daysBetween, localDay } from '../../followup/planSlots.ts';
import { type Told, toldAbout } from '../../store/alarms.ts';
import { shopCounts } from '../../store/counts.ts';
import { cautions, hasJobs, type OpenCaseRow, openCases, unsentCount } from '../../store/pages/bench.ts';
import { benchCosts, type CaseCosts } from '../../store/pages/benchCosts.ts';
import type { Shop } from '../../store/shops.ts';
import { inTen, localTimes, readable, shortDay, shortTime } from '../format.ts';
import { loadShell, type Web } from '../web.ts';
import { claimReminders } from './claimsView.ts';
import { toldWords } from './told.ts';
import { actOffer, channelWords, deadlineView, markedWords, pairWords } from './views.ts';

const ROWS = 40;
const LOOK_BACK_MS = 14 * 86_400_000;

/** What needs a person now: danger first, then by what ends first. */
export function benchRoutes(app: Hono<Web>): void {
  app.get('/version', async (c) => {
    const room = c.get('room');
    return c.text((await shopCounts(room.shell.db, room.shopId)).version);
  });
  app.get('/bench', async (c) => {
    const room = c.get('room');
    const { shell, shop, now } = await loadShell(c, 'Bench', '/bench');
    const cases = await openCases(room.shell.db, room.shopId, 300);
    const danger = cases.filter((row) => row.danger);
    const warned = await cautions(
      room.shell.db,
      room.shopId,
      danger.map((row) => row.wearer_id),
    );
    const told = await toldAbout(
      room.shell.db,
      room.shopId,
      danger.map((row) => row.case_id),
    );
    const waiting = cases.filter((row) => !row.danger).map((row) => ({ row, ends: endsOf(row, shop, now) }));
    const costs = await benchCosts(
      room.shell.db,
      room.shopId,
      waiting.map(({ row }) => row.case_id),
    );
    const others = byWhatWaitingCosts(waiting, costs);
    const unsent = await unsentCount(room.shell.db, room.shopId, new Date(now.getTime() - LOOK_BACK_MS));
    const tray = shell.side.find((link) => link.href === '/tray')?.waiting ?? 0;
    const view: BenchView = {
      danger: danger.map((row) =>
        dangerRow(
          row,
          warned.filter((one) => one.wearer_id === row.wearer_id),
          told.filter((one) => one.case_id === row.case_id),
          shop,
          now,
        ),
      ),
      rows: others
        .slice(0, ROWS)
        .map(({ row, ends }) => benchRow(row, ends, costs.get(row.case_id), shop, now)),
      more: Math.max(0, others.length - ROWS),
      moreHref: null,
      late: others
        .flatMap(({ row, ends }) => {
          const soon = ends.filter((end) => end.daysLeft <= 14);
          const end = soon.find((one) => one.daysLeft >= 0) ?? soon[0];
          return end === undefined ? [] : [{ row, end }];
        })
        .sort((a, b) => a.end.daysLeft - b.end.daysLeft)
        .map(({ row, end }) => ({
          caseId: row.case_id,
          wearer: row.wearer,
          what: deadlineView(end).name,
          daysLeft: end.daysLeft,
          lastDay: shortDay(end.lastDay),
        })),
      trayCount: tray,
      unsent:
        unsent === 0
          ? null
          : {
              words:
                unsent === 1
                  ? 'One of our messages may not have arrived'
                  : `${unsent} of our messages may not have arrived`,
              href: '/wearers?show=all',
            },
      reminders: await claimReminders(room.shell.db, shop, now),
      firstSteps: (await hasJobs(room.shell.db, room.shopId))
        ? []
        : [
            { words: 'Type in a job, or take in a file of jobs', href: '/deliveries/new', done: false },
            {
              words: 'Hand the glasses over, and ask whether you may write',
              href: '/deliveries',
              done: false,
            },
            { words: 'Answers and troubles will stand here', href: '/bench', done: false },
          ],
    };
    return c.html(renderDocument(<BenchPage shell={shell} view={view} />));
  });
}

const endsOf = (row: OpenCaseRow, shop: Shop, now: Date) =>
  deadlinesOf(
    row,
    { first_worn_on: row.first_worn_on, handed_over_on: row.pair_handed_over_on },
    shop.settings,
    row.lab_terms ?? [],
    localDay(now, shop.time_zone),
  );

type Waiting = { readonly row: OpenCaseRow; readonly ends: ReturnType<typeof endsOf> };

/** Dearest wait first; among equals, and where nothing was weighed, what ends first, then what has been open longest. */
function byWhatWaitingCosts(
  waiting: readonly Waiting[],
  costs: ReadonlyMap<string, CaseCosts>,
): readonly Waiting[] {
  const soonest = [...waiting].sort(
    (a, b) =>
      a.ends[0]!.daysLeft - b.ends[0]!.daysLeft || a.row.opened_at.getTime() - b.row.opened_at.getTime(),
  );
  const byId = new Map(soonest.map((one) => [one.row.case_id, one]));
  return orderBench(
    soonest.map(({ row, ends }) => ({
      caseId: row.case_id,
      danger: false,
      costOfNothing: costs.get(row.case_id)?.ofNothing ?? 0,
      costOfBestAct: costs.get(row.case_id)?.ofBestAct ?? 0,
      daysLeft: ends[0]?.daysLeft,
    })),
  ).map(({ caseId }) => byId.get(caseId)!);
}

function costWords(costs: CaseCosts | undefined, ends: Waiting['ends']): string {
  if (!costs) return '';
  const next = ends.find((one) => one.daysLeft >= 0);
  const end = next ? ` until ${shortDay(next.lastDay)}` : '';
  return `Left alone it costs about ${Math.round(costs.ofNothing)}${end}, the best act about ${Math.round(costs.ofBestAct)}.`;
}

function benchRow(
  row: OpenCaseRow,
  ends: Waiting['ends'],
  costs: CaseCosts | undefined,
  shop: Shop,
  now: Date,
): BenchRow {
  const waits = row.held_by === null && row.state === 'asked the wearer';
  return {
    caseId: row.case_id,
    version: row.version,
    wearer: row.wearer,
    day: daysBetween(row.first_worn_on, localDay(now, row.zone_candidates[0] ?? shop.time_zone)),
    pair: pairWords(row.design, row.first_multifocal),
    state: stateWords(row, shop, now),
    words: row.body === null ? null : markedWords(row.body, row.spans, row.left_over),
    said: row.received_at
      ? `${shortTime(row.received_at, now, shop.time_zone)}, ${channelWords(row.channel ?? '')}`
      : '',
    cause:
      row.leading_cause === null
        ? null
        : {
            name: causeName(row.leading_cause),
            share: inTen(row.leading_share ?? 0),
            number:
              row.leading_why ?? 'no number of the job speaks yet; from what was said and the day of wear',
            trace: null,
          },
    noCause:
      row.leading_cause !== null
        ? ''
        : row.labels.includes('settled')
          ? 'says that all is well'
          : 'not said yet what is wrong',
    act: waits ? null : actOffer(row.act, row.act_way, row.act_why, row.case_id),
    waitsFor: waits
      ? 'waits for the wearer’s answer'
      : row.labels.includes('settled')
        ? 'look once more, then close it'
        : '',
    deadlines: ends.map(deadlineView),
    cost: costWords(costs, ends),
  };
}

export function stateWords(
  row: Pick<OpenCaseRow, 'state' | 'held_by' | 'again_on' | 'changed_at'>,
  shop: Shop,
  now: Date,
): string {
  if (row.held_by !== null)
    return `held by ${row.held_by}${row.again_on ? `, again on ${shortDay(row.again_on)}` : ''}`;
  return `${row.state}, ${shortTime(row.changed_at, now, shop.time_zone)}`;
}

function dangerRow(
  row: OpenCaseRow,
  warned: Awaited<ReturnType<typeof cautions>>,
  told: readonly Told[],
  shop: Shop,
  now: Date,
): DangerRow {
  const last = warned.at(-1);
  const reached = last !== undefined && (last.state === 'accepted' || last.state === 'delivered');
  return {
    caseId: row.case_id,
    wearer: row.wearer,
    words: markedWords(row.body ?? '', row.spans, row.left_over),
    came: row.received_at
      ? `${shortTime(row.received_at, now, shop.time_zone)}, ${channelWords(row.channel ?? '')}`
      : '',
    phone: row.phone === null ? null : readable(row.phone),
    localTime: localTimes(now, row.zone_candidates),
    caution: cautionWords(last, shop, now),
    cautionReached: reached,
    told: toldWords(told, shop, now),
    hasIt: row.held_by,
  };
}

export function cautionWords(
  last: { state: string; created_at: Date; channel: string } | undefined,
  shop: Shop,
  now: Date,
): string {
  if (!last) return 'Has NOT had the caution: it could not be sent';
  const when = shortTime(last.created_at, now, shop.time_zone);
  if (last.state === 'accepted' || last.state === 'delivered')
    return `Caution sent ${when}, ${channelWords(last.channel)}`;
  if (last.state === 'unsure' || last.state === 'handed over')
    return `May NOT have had the caution (${when})`;
  if (last.state === 'planned' || last.state === 'claimed') return 'Caution is on its way';
  return `Has NOT had the caution: ${last.state}`;
}

import type { Insertable } from 'kysely';
import { newId } from '../ids.ts';
import type { JobDates } from '../intake/job.ts';
import { bad, type Checked, good } from '../problems.ts';
import { findJob } from '../store/jobs.ts';
import type { Tables } from '../store/tables.ts';
import { findWearer } from '../store/wearers.ts';
import {
  addDays,
  daysBetween,
  HAVE_THEY_COME_DAYS,
  haveTheyComeSlots,
  localDay,
  planSlots,
  type Slot,
} from './planSlots.ts';
import type { Shell } from './shell.ts';

/** A pair that was first worn longer ago than this when it is taken in gets no check-ins at all. */
const TOO_LATE_TO_ASK_DAYS = 30;
/** A posted pair without a known arrival is reckoned to be first worn so many days after posting. */
const POST_DAYS = 4;

export type PairFrom = {
  readonly shopId: string;
  readonly jobId: string;
  readonly wearerId: string;
  readonly way: 'counter' | 'post';
  readonly dates: JobDates;
  readonly zones: readonly string[];
  readonly now: Date;
  readonly replacesPairId?: string;
};

export type PairRows = {
  readonly pair: Insertable<Tables['pair']>;
  readonly plan: Insertable<Tables['plan']>;
  readonly checkIns: Insertable<Tables['check_in']>[];
};

/**
 * The pair of a job and its plan, once the glasses have left the shop; undefined before that. Day 0 is the day first
 * worn: as said, else the arrival, else the hand-over; for a posted pair with no arrival it is reckoned, and the wearer is
 * asked whether they have come.
 */
export function pairRows(from: PairFrom): PairRows | undefined {
  const { dates } = from;
  const leftOn = dates.handedOverOn ?? dates.arrivedOn ?? dates.postedOn;
  if (leftOn === undefined) return undefined;
  const arrivalKnown =
    from.way === 'counter' || dates.firstWornOn !== undefined || dates.arrivedOn !== undefined;
  const dayZero =
    dates.firstWornOn ?? dates.arrivedOn ?? (from.way === 'counter' ? leftOn : addDays(leftOn, POST_DAYS));
  const how = dates.firstWornOn
    ? 'said by the wearer'
    : dates.arrivedOn
      ? 'arrived'
      : from.way === 'counter'
        ? 'handed over'
        : 'reckoned';
  const pairId = newId(from.now);
  const today = localDay(from.now, from.zones[0]!);
  const tooLate = daysBetween(dayZero, today) > TOO_LATE_TO_ASK_DAYS;
  const slots: Slot[] = tooLate
    ? []
    : arrivalKnown
      ? planSlots({ dayZero, zones: from.zones, now: from.now, round: 1, withTips: true })
      : haveTheyComeSlots({
          since: leftOn,
          days: HAVE_THEY_COME_DAYS,
          zones: from.zones,
          now: from.now,
          round: 1,
        });
  return {
    pair: {
      shop_id: from.shopId,
      pair_id: pairId,
      job_id: from.jobId,
      wearer_id: from.wearerId,
      replaces_pair_id: from.replacesPairId ?? null,
      handed_over_on: leftOn,
      first_worn_on: dayZero,
      first_worn_how: how,
      created_at: from.now,
    },
    plan: {
      shop_id: from.shopId,
      pair_id: pairId,
      wearer_id: from.wearerId,
      round: 1,
      state: tooLate ? 'ended' : arrivalKnown ? 'running' : 'paused',
      why: tooLate ? 'taken in after day 30' : arrivalKnown ? null : 'not known to have come',
      since: from.now,
    },
    checkIns: checkInRows(from.shopId, pairId, from.wearerId, slots, from.now),
  };
}

export function checkInRows(
  shopId: string,
  pairId: string,
  wearerId: string,
  slots: readonly Slot[],
  now: Date,
): Insertable<Tables['check_in']>[] {
  return slots.map((slot) => ({
    shop_id: shopId,
    check_in_id: newId(now),
    pair_id: pairId,
    wearer_id: wearerId,
    slot: slot.slot,
    kind: slot.kind,
    day: slot.day,
    due_on: slot.dueOn,
    due_at: slot.dueAt,
    state: slot.state,
    why: slot.why,
    message_id: null,
  }));
}

/** Records that a job's glasses were handed over (or posted), and plans the check-ins. Once only. */
export async function handOver(
  shell: Shell,
  shopId: string,
  jobId: string,
  what: { readonly on: string; readonly way: 'counter' | 'post' },
): Promise<Checked<{ pairId: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const job = await findJob(trx, shopId, jobId);
    const wearer = job && (await findWearer(trx, shopId, job.wearer_id));
    if (!job || !wearer) {
      return bad({
        code: 'no-job',
        what: 'There is no such job.',
        where: 'job',
        mend: 'Open it again from Deliveries.',
      });
    }
    const there = await trx
      .selectFrom('pair')
      .select('pair_id')
      .where('shop_id', '=', shopId)
      .where('job_id', '=', jobId)
      .executeTakeFirst();
    if (there) {
      return bad({
        code: 'handed-over-already',
        what: `Job ${job.job_key} was handed over already.`,
        where: 'handed_over_on',
        mend: 'Nothing to do; correct the day on the wearer’s page if it is wrong.',
      });
    }
    const dates: JobDates = what.way === 'counter' ? { handedOverOn: what.on } : { postedOn: what.on };
    const rows = pairRows({
      shopId,
      jobId,
      wearerId: job.wearer_id,
      way: what.way,
      dates,
      zones: wearer.zone_candidates,
      now,
      ...(job.remake_of_pair_id ? { replacesPairId: job.remake_of_pair_id } : {}),
    })!;
    await trx.insertInto('pair').values(rows.pair).execute();
    await trx.insertInto('plan').values(rows.plan).execute();
    if (rows.checkIns.length > 0) await trx.insertInto('check_in').values(rows.checkIns).execute();
    await trx
      .updateTable('job')
      .set({
        way: what.way,
        ...(what.way === 'counter' ? { handed_over_on: what.on } : { posted_on: what.on }),
      })
      .where('shop_id', '=', shopId)
      .where('job_id', '=', jobId)
      .execute();
    return good({ pairId: rows.pair.pair_id });
  });
}

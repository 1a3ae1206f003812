import type { Insertable } from 'kysely';
import { newId } from '../ids.ts';
import type { JobDates } from '../intake/job.ts';
import type { Trx } from '../store/database.ts';
import type { Tables } from '../store/tables.ts';
import { caseGoesOn } from './caseGoesOn.ts';
import {
  addDays,
  daysBetween,
  HAVE_THEY_COME_DAYS,
  haveTheyComeSlots,
  localDay,
  planSlots,
  type Slot,
} from './planSlots.ts';

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

/** When a pair was first worn and what its plan asks: the same for every pair of the same days, way and zones. */
type Reckoned = Pick<PairRows['pair'], 'handed_over_on' | 'first_worn_on' | 'first_worn_how'> & {
  readonly state: PairRows['plan']['state'];
  readonly why: string | null;
  readonly slots: readonly Slot[];
};

/**
 * The pair of a job and its plan, once the glasses have left the shop; undefined before that. Day 0 is the day first
 * worn: as said, else the arrival, else the hand-over; for a posted pair with no arrival it is reckoned, and the wearer is
 * asked whether they have come.
 */
export function pairRows(from: PairFrom, reckoned: typeof reckon = reckon): PairRows | undefined {
  const found = reckoned(from);
  if (found === undefined) return undefined;
  const { slots, state, why, ...days } = found;
  const pairId = newId(from.now);
  return {
    pair: {
      shop_id: from.shopId,
      pair_id: pairId,
      job_id: from.jobId,
      wearer_id: from.wearerId,
      replaces_pair_id: from.replacesPairId ?? null,
      ...days,
      created_at: from.now,
    },
    plan: {
      shop_id: from.shopId,
      pair_id: pairId,
      wearer_id: from.wearerId,
      round: 1,
      state,
      why,
      since: from.now,
    },
    checkIns: checkInRows(from.shopId, pairId, from.wearerId, slots, from.now),
  };
}

/** The same for many pairs at one moment: days are counted once for all that have the same. */
export function reckonOnce(): typeof reckon {
  const known = new Map<string, Reckoned | undefined>();
  return (from) => {
    const key = JSON.stringify([from.way, from.dates, from.zones, from.now]);
    if (!known.has(key)) known.set(key, reckon(from));
    return known.get(key);
  };
}

function reckon(from: Pick<PairFrom, 'way' | 'dates' | 'zones' | 'now'>): Reckoned | undefined {
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
  const today = localDay(from.now, from.zones[0]!);
  const tooLate = daysBetween(dayZero, today) > TOO_LATE_TO_ASK_DAYS;
  const { zones, now } = from;
  const slots: Slot[] = tooLate
    ? []
    : arrivalKnown
      ? planSlots({ dayZero, zones, now, round: 1, withTips: true })
      : haveTheyComeSlots({ since: leftOn, days: HAVE_THEY_COME_DAYS, zones, now, round: 1 });
  return {
    handed_over_on: leftOn,
    first_worn_on: dayZero,
    first_worn_how: how,
    state: tooLate ? 'ended' : arrivalKnown ? 'running' : 'paused',
    why: tooLate ? 'taken in after day 30' : arrivalKnown ? null : 'not known to have come',
    slots,
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

/** Puts a pair and its plan on record; one that replaces another takes the open case of that one along. */
export async function insertPair(trx: Trx, rows: PairRows): Promise<void> {
  await trx.insertInto('pair').values(rows.pair).execute();
  await trx.insertInto('plan').values(rows.plan).execute();
  if (rows.checkIns.length > 0) await trx.insertInto('check_in').values(rows.checkIns).execute();
  const { shop_id, pair_id, replaces_pair_id, created_at } = rows.pair;
  if (replaces_pair_id) await caseGoesOn(trx, shop_id, replaces_pair_id, pair_id, created_at as Date);
}

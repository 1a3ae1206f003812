import { isCivil } from '../channels/civilHours.ts';
import type { Db } from '../store/database.ts';
import {
  type RingAttemptRow,
  type RingDays,
  type RingReasonKind,
  type RingReasonRow,
  type RingWearerRow,
  ringAttempts,
  ringReasons,
  ringWearers,
} from '../store/ringList.ts';
import type { Shop } from '../store/shops.ts';
import { addDays, localDay } from './planSlots.ts';
import { ringBy } from './ringPromise.ts';

/** Posted so long ago and no word: the wearer is rung. Common practice, no source. */
export const NO_WORD_DAYS = 10;
/** A parcel that nobody has spoken of for so long is no longer waited for. */
const WAITED_FOR_DAYS = 60;
/** Check-ins by phone and messages that reached nobody are rung about for so long. */
const LOOK_BACK_MS = 30 * 86_400_000;
/** So many attempts without speaking, and it is better to write. Common practice, no source. */
export const TRIES_BEFORE_WRITING = 3;
/** What a job foretold is rung about for so long: the first question has gone out by then. Our own choice. */
const FORETOLD_MS = 5 * 86_400_000;
const MOST_REASONS = 2000;

export type RingReason = {
  readonly kind: RingReasonKind;
  readonly since: Date;
  readonly detail: string | null;
};

/** Somebody to ring, with every reason for it. */
export type RingEntry = {
  readonly wearerId: string;
  readonly wearer: string;
  readonly zones: readonly string[];
  /** Null where no number is known, or where the one that was is somebody else's. */
  readonly phone: string | null;
  readonly civil: boolean;
  /** Weightiest first; empty where a call sheet was opened for somebody who rang in. */
  readonly reasons: readonly RingReason[];
  readonly caseId: string | null;
  /** Until when we said that we would ring; null when nothing was said. */
  readonly promisedBy: Date | null;
  readonly overdue: boolean;
  /** Since we last spoke, newest first. */
  readonly attempts: readonly RingAttemptRow[];
  readonly writeInstead: 'three tries' | 'wrong number' | 'no number' | null;
};

/** Who is to be rung: danger first, then what was promised, by its time, then whom it is civil to ring now, oldest first. */
export async function ringList(db: Db, shop: Shop, now: Date): Promise<RingEntry[]> {
  return entries(db, shop, now, null);
}

/** One wearer's place on the ring list; also where there is no reason, since wearers ring in too. */
export async function ringEntryOf(
  db: Db,
  shop: Shop,
  wearerId: string,
  now: Date,
): Promise<RingEntry | undefined> {
  return (await entries(db, shop, now, wearerId))[0];
}

/** How many wearers stand on the ring list, for the side of every page. */
export async function ringCount(db: Db, shop: Shop, now: Date): Promise<number> {
  const reasons = await ringReasons(db, shop.shop_id, daysOf(shop, now), null, MOST_REASONS);
  return new Set(reasons.map((row) => row.wearer_id)).size;
}

function daysOf(shop: Shop, now: Date): RingDays {
  const today = localDay(now, shop.time_zone);
  return {
    postedUpTo: addDays(today, -NO_WORD_DAYS),
    postedSince: addDays(today, -WAITED_FOR_DAYS),
    since: new Date(now.getTime() - LOOK_BACK_MS),
    foretoldSince: new Date(now.getTime() - FORETOLD_MS),
    now,
  };
}

async function entries(db: Db, shop: Shop, now: Date, wearerId: string | null): Promise<RingEntry[]> {
  const reasons = await ringReasons(db, shop.shop_id, daysOf(shop, now), wearerId, MOST_REASONS);
  const ids = wearerId === null ? [...new Set(reasons.map((row) => row.wearer_id))] : [wearerId];
  const wearers = await ringWearers(db, shop.shop_id, ids);
  const attempts = await ringAttempts(db, shop.shop_id, ids);
  return inOrder(
    wearers.map((wearer) =>
      ringEntry(
        wearer,
        reasons.filter((row) => row.wearer_id === wearer.wearer_id),
        attempts.filter((row) => row.wearer_id === wearer.wearer_id),
        shop,
        now,
      ),
    ),
  );
}

const WEIGHT: readonly RingReasonKind[] = [
  'danger',
  'asked',
  'act',
  'unreached',
  'no word',
  'foretold',
  'check-in',
];

/** What the rows of one wearer come to. */
export function ringEntry(
  wearer: RingWearerRow,
  rows: readonly RingReasonRow[],
  attempts: readonly RingAttemptRow[],
  shop: Pick<Shop, 'time_zone' | 'settings'>,
  now: Date,
): RingEntry {
  const reasons = oneOfEachKind(rows);
  // Rows of before the last talk are there to be read; only what came after it counts.
  const spokeAt = attempts.findIndex((one) => one.what === 'spoke');
  const since = spokeAt < 0 ? attempts : attempts.slice(0, spokeAt);
  const promisedBy = promiseOf(reasons, since, shop);
  const phone = wearer.phone_unusable === null ? wearer.phone : null;
  return {
    wearerId: wearer.wearer_id,
    wearer: wearer.wearer,
    zones: wearer.zone_candidates,
    phone,
    civil: isCivil(now, wearer.zone_candidates),
    reasons,
    caseId: rows.find((row) => row.case_id !== null)?.case_id ?? null,
    promisedBy,
    overdue: promisedBy !== null && promisedBy < now,
    attempts: since,
    writeInstead: writeInsteadOf(wearer, phone, since),
  };
}

function oneOfEachKind(rows: readonly RingReasonRow[]): RingReason[] {
  return WEIGHT.flatMap((kind) => {
    const newest = rows
      .filter((row) => row.kind === kind)
      .sort((a, b) => b.since.getTime() - a.since.getTime())[0];
    return newest ? [{ kind, since: newest.since, detail: newest.detail }] : [];
  });
}

/** "Again at" is what was said last, so it stands; else who asked for a call was told "in shop hours"; danger is now. */
function promiseOf(
  reasons: readonly RingReason[],
  attempts: readonly RingAttemptRow[],
  shop: Pick<Shop, 'time_zone' | 'settings'>,
): Date | null {
  const danger = reasons.find((one) => one.kind === 'danger');
  if (danger) return danger.since;
  const again = attempts.find((one) => one.again_at !== null);
  if (again) return again.again_at;
  const asked = reasons.find((one) => one.kind === 'asked');
  return asked ? ringBy(shop, asked.since) : null;
}

function writeInsteadOf(
  wearer: RingWearerRow,
  phone: string | null,
  attempts: readonly RingAttemptRow[],
): RingEntry['writeInstead'] {
  if (wearer.phone === null) return 'no number';
  if (phone === null) return 'wrong number';
  const tries = attempts.filter((one) => one.what === 'no answer' || one.what === 'left message').length;
  return tries >= TRIES_BEFORE_WRITING ? 'three tries' : null;
}

function inOrder(list: readonly RingEntry[]): RingEntry[] {
  const rank = (entry: RingEntry): number =>
    entry.reasons[0]?.kind === 'danger' ? 0 : entry.promisedBy ? 1 : entry.civil ? 2 : 3;
  const time = (entry: RingEntry): number =>
    (entry.promisedBy ?? entry.reasons.at(-1)?.since ?? new Date(0)).getTime();
  return [...list].sort(
    (a, b) => rank(a) - rank(b) || time(a) - time(b) || (a.wearerId < b.wearerId ? -1 : 1),
  );
}

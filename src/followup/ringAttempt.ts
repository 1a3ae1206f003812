import { Temporal } from 'temporal-polyfill';
import { instantOfLocal, isCivil, OUTER_HOURS } from '../channels/civilHours.ts';
import { bad, type Checked, good } from '../problems.ts';
import { addCaseEvent, openCaseOf } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { pairsOf } from '../store/jobs.ts';
import { addRingAttempt, markNumberWrong } from '../store/ringList.ts';
import { findShop } from '../store/shops.ts';
import { RING_WHATS, type RingWhat } from '../store/tables.ts';
import { lockWearer, type Wearer } from '../store/wearers.ts';
import type { Shell } from './shell.ts';
import { noSuchWearer } from './stopByStaff.ts';
import { WRONG_NUMBER } from './troubles.ts';

/** Nobody promises to ring in more than a month. */
const LATEST_AGAIN_DAYS = 31;
const LONGEST_NOTE = 500;

export type RingTried = {
  readonly what: string;
  /** By the shop's clock, `2026-03-06T15:00`; only where it is to be tried again at a time. */
  readonly againAt: string;
  readonly note: string;
};

/**
 * Puts on record what came of ringing a wearer. A wrong number is not used again; a time for the next try has to be a civil
 * one where the wearer is.
 */
export async function noteRingAttempt(
  shell: Shell,
  shopId: string,
  wearerId: string,
  tried: RingTried,
  by: string,
): Promise<Checked<{ what: RingWhat; againAt: Date | null }>> {
  const now = shell.clock.now();
  const what = RING_WHATS.find((one) => one === tried.what);
  if (!what) {
    return bad({
      code: 'ring-what',
      what: `“${tried.what}” is nothing that comes of a call.`,
      where: 'what',
      mend: 'Choose one of the list.',
    });
  }
  return shell.db.transaction().execute(async (trx) => {
    const wearer = await lockWearer(trx, shopId, wearerId);
    if (!wearer) return bad(noSuchWearer);
    const shop = await findShop(trx, shopId);
    const again =
      what === 'again at' ? readAgain(tried.againAt, shop.time_zone, wearer, now) : good<Date | null>(null);
    if (!again.ok) return again;
    const note = tried.note.trim().slice(0, LONGEST_NOTE) || null;
    await addRingAttempt(trx, shopId, { wearerId, what, againAt: again.value, note, by }, now);
    if (what === 'wrong number') await markNumberWrong(trx, shopId, wearerId, WRONG_NUMBER);
    await tellCase(
      trx,
      shopId,
      wearerId,
      note === null ? `rang: ${what}` : `rang: ${what}; ${note}`,
      by,
      now,
    );
    return good({ what, againAt: again.value });
  });
}

function readAgain(typed: string, zone: string, wearer: Wearer, now: Date): Checked<Date> {
  const refuse = (what: string, mend: string) => bad({ code: 'ring-again', what, where: 'again_at', mend });
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2})?$/.test(typed))
    return refuse('The time to ring again is missing.', 'Give day and time by the shop’s clock.');
  let at: Date;
  try {
    at = instantOfLocal(Temporal.PlainDateTime.from(typed, { overflow: 'reject' }).toString(), zone);
  } catch {
    return refuse(`“${typed}” is no day and time.`, 'Give day and time by the shop’s clock.');
  }
  if (at <= now) return refuse('This time has passed.', 'Give a time that is still to come.');
  if (at.getTime() - now.getTime() > LATEST_AGAIN_DAYS * 86_400_000)
    return refuse('This is more than a month away.', 'Give an earlier day.');
  if (!isCivil(at, wearer.zone_candidates, OUTER_HOURS))
    return refuse('It would be before eight or after nine where they are.', 'Give a time between.');
  return good(at);
}

async function tellCase(
  trx: Trx,
  shopId: string,
  wearerId: string,
  text: string,
  by: string,
  now: Date,
): Promise<void> {
  const [pair] = await pairsOf(trx, shopId, [wearerId]);
  const file = pair && (await openCaseOf(trx, shopId, pair.pair_id));
  if (file) await addCaseEvent(trx, shopId, file.case_id, 'note', { text }, by, now);
}

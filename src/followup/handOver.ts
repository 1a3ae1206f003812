import type { JobDates } from '../intake/job.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import type { Trx } from '../store/database.ts';
import { addFacts, findJob, type Job } from '../store/jobs.ts';
import { findShop } from '../store/shops.ts';
import type { ChannelKind } from '../store/tables.ts';
import { changeConsent, lockWearer, type Wearer } from '../store/wearers.ts';
import { arrived } from './arrived.ts';
import { heldBack } from './benchStanding.ts';
import { daysOfJob, readJobDay } from './jobDay.ts';
import { insertPair, pairRows } from './pairRows.ts';
import { localDay } from './planSlots.ts';
import { preferAgreed } from './preferAgreed.ts';
import type { Shell } from './shell.ts';

export const ASKED_AT_HAND_OVER = 'asked at hand-over';

export type HandedOver = {
  /** The day on which the glasses were handed over; of a posted pair, the day on which they arrived. */
  readonly on: string;
  /** Empty: the same day. */
  readonly firstWornOn: string;
  /** What the wearer answered for each channel; a channel that was not asked about is left out. */
  readonly consent: Readonly<Partial<Record<ChannelKind, 'given' | 'refused'>>>;
  /** The words in which it was asked, and by whom. */
  readonly words: string;
  readonly askedBy: string;
  /** Did the frame slide with the head shaken, looking down? Left out: not tried. */
  readonly slips?: boolean;
};

export const noSuchJob: Problem = {
  code: 'no-job',
  what: 'There is no such job.',
  where: 'job',
  mend: 'Open it again from Deliveries.',
};

/**
 * The glasses reach the wearer: handed over at the counter, or a posted pair has arrived. Makes the pair and its plan (or
 * starts the plan of a posted pair), and keeps the answers about consent with their words. Once only.
 */
export async function handOver(
  shell: Shell,
  shopId: string,
  jobId: string,
  what: HandedOver,
  by: string,
): Promise<Checked<{ pairId: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const job = await findJob(trx, shopId, jobId);
    const wearer = job && (await lockWearer(trx, shopId, job.wearer_id));
    if (!job || !wearer) return bad(noSuchJob);
    const held = await heldBack(trx, shopId, jobId);
    if (held.length > 0) return bad(...held);
    const days = readDays(job, what, localDay(now, (await findShop(trx, shopId)).time_zone));
    if (!days.ok) return days;
    const pair = await putInHand(trx, job, wearer, days.value, now);
    if (!pair.ok) return pair;
    const agreed = (['text', 'email'] as const).filter((channel) => what.consent[channel] === 'given');
    await preferAgreed(trx, shopId, wearer, agreed);
    for (const channel of ['text', 'email'] as const) {
      const act = what.consent[channel];
      if (act === undefined) continue;
      await changeConsent(
        trx,
        shopId,
        {
          wearerId: wearer.wearer_id,
          channels: [channel],
          act,
          basis: ASKED_AT_HAND_OVER,
          words: what.words || null,
          by: what.askedBy || by,
        },
        now,
      );
    }
    if (what.slips !== undefined) {
      const fact = { key: 'slips', eye: null, value: what.slips, unit: null };
      const source = { how: 'head shaken, looking down', by, source: 'hand-over' };
      await addFacts(trx, shopId, [{ jobId, ...fact, ...source }], now);
    }
    await addAudit(trx, shopId, { by, act: 'handed over', subject: jobId, detail: days.value }, now);
    return pair;
  });
}

type Days = { readonly on: string; readonly firstWornOn?: string };

function readDays(job: Job, what: HandedOver, today: string): Checked<Days> {
  const which = job.way === 'post' ? 'arrived_on' : 'handed_over_on';
  const known = daysOfJob(job);
  const on = readJobDay(known, which, what.on, 'handed_over_on', today);
  if (!on.ok) return on;
  if (what.firstWornOn === '') return good({ on: on.value });
  const worn = readJobDay(
    { ...known, [which]: on.value },
    'first_worn_on',
    what.firstWornOn,
    'first_worn_on',
    today,
  );
  return worn.ok ? good({ on: on.value, firstWornOn: worn.value }) : worn;
}

async function putInHand(
  trx: Trx,
  job: Job,
  wearer: Wearer,
  { on, firstWornOn }: Days,
  now: Date,
): Promise<Checked<{ pairId: string }>> {
  const { shop_id: shopId, job_id: jobId, way } = job;
  const there = await trx
    .selectFrom('pair')
    .select(['pair_id', 'first_worn_how'])
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .executeTakeFirst();
  if (there && (way === 'counter' || there.first_worn_how !== 'reckoned')) {
    return bad({
      code: 'handed-over-already',
      what: `Job ${job.job_key} ${way === 'counter' ? 'was handed over' : 'is known to have arrived'} already.`,
      where: 'job',
      mend: 'Nothing to do.',
    });
  }
  await trx
    .updateTable('job')
    .set(way === 'counter' ? { handed_over_on: on } : { arrived_on: on })
    .where('shop_id', '=', shopId)
    .where('job_id', '=', jobId)
    .execute();
  if (there) {
    const how = firstWornOn === undefined ? 'arrived' : 'said by the wearer';
    await arrived(trx, shopId, wearer, there.pair_id, firstWornOn ?? on, how, now);
    return good({ pairId: there.pair_id });
  }
  const left: JobDates =
    way === 'counter'
      ? { handedOverOn: on }
      : { arrivedOn: on, ...(job.posted_on ? { postedOn: job.posted_on } : {}) };
  const rows = pairRows({
    shopId,
    jobId,
    wearerId: wearer.wearer_id,
    way,
    dates: { ...left, ...(firstWornOn === undefined ? {} : { firstWornOn }) },
    zones: wearer.zone_candidates,
    now,
    ...(job.remake_of_pair_id ? { replacesPairId: job.remake_of_pair_id } : {}),
  })!;
  await insertPair(trx, rows);
  return good({ pairId: rows.pair.pair_id });
}

import { bad, type Checked, good } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import { findJob } from '../store/jobs.ts';
import { findShop } from '../store/shops.ts';
import { lockWearer } from '../store/wearers.ts';
import { heldBack } from './benchStanding.ts';
import { type HandedOver, handOver, noSuchJob } from './handOver.ts';
import { daysOfJob, type JobDay, readJobDay } from './jobDay.ts';
import { insertPair, pairRows } from './pairRows.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';

const SETTABLE: Readonly<Record<string, JobDay | undefined>> = {
  __proto__: null as never,
  lab_invoiced: 'lab_invoiced_on',
  received: 'received_on',
  posted: 'posted_on',
  arrived: 'arrived_on',
};

const NOTHING_ASKED: Omit<HandedOver, 'on'> = { firstWornOn: '', consent: {}, words: '', askedBy: '' };

/**
 * Sets a day of a job. The day of posting makes the pair, whose wearer is asked whether it has come; the day of arrival starts
 * its questions.
 */
export async function setJobDate(
  shell: Shell,
  shopId: string,
  jobId: string,
  which: string,
  typed: string,
  by: string,
): Promise<Checked<{ which: string; on: string }>> {
  const column = SETTABLE[which];
  if (!column) {
    return bad({
      code: 'which-day',
      what: `“${which}” is no day that can be set here.`,
      where: 'which',
      mend: 'Choose one of the list.',
    });
  }
  if (column === 'arrived_on') {
    const done = await handOver(shell, shopId, jobId, { on: typed, ...NOTHING_ASKED }, by);
    if (done.ok) return good({ which, on: typed });
    return bad(
      ...done.problems.map((one) => (one.where === 'handed_over_on' ? { ...one, where: 'on' } : one)),
    );
  }
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const job = await findJob(trx, shopId, jobId);
    const wearer = job && (await lockWearer(trx, shopId, job.wearer_id));
    if (!job || !wearer) return bad(noSuchJob);
    const today = localDay(now, (await findShop(trx, shopId)).time_zone);
    const day = readJobDay(daysOfJob(job), column, typed, 'on', today);
    if (!day.ok) return day;
    if (column === 'posted_on') {
      const held = await heldBack(trx, shopId, jobId);
      if (held.length > 0) return bad(...held);
      if (job.way !== 'post' || job.posted_on !== null || job.handed_over_on !== null) {
        return bad({
          code: 'posted-already',
          what:
            job.way === 'post'
              ? 'The day of posting is set already.'
              : 'This pair is for the counter, not for the post.',
          where: 'which',
          mend: 'Nothing to do.',
        });
      }
    }
    await trx
      .updateTable('job')
      .set({ [column]: day.value })
      .where('shop_id', '=', shopId)
      .where('job_id', '=', jobId)
      .execute();
    if (column === 'posted_on' && job.arrived_on === null) {
      const rows = pairRows({
        shopId,
        jobId,
        wearerId: wearer.wearer_id,
        way: 'post',
        dates: { postedOn: day.value },
        zones: wearer.zone_candidates,
        now,
        ...(job.remake_of_pair_id ? { replacesPairId: job.remake_of_pair_id } : {}),
      })!;
      await insertPair(trx, rows);
    }
    await addAudit(
      trx,
      shopId,
      { by, act: `day set: ${which}`, subject: jobId, detail: { on: day.value } },
      now,
    );
    return good({ which, on: day.value });
  });
}

import type { LensOrderMeaning } from '../intake/lensOrderFacts.ts';
import { readRecord } from '../intake/record.ts';
import { bad, type Checked, good } from '../problems.ts';
import { addCaseEvent, openCaseOf } from '../store/cases.ts';
import { addFacts, factsOf } from '../store/jobs.ts';
import { jobsByKey } from '../store/takeIn.ts';
import { rankCase } from './rankCase.ts';
import type { Shell } from './shell.ts';

export type GivenRecord = {
  readonly text: string;
  /** What the powers of lens-order records are; a prescription says itself what it is. */
  readonly meaning: LensOrderMeaning;
  /** The job that it belongs to; empty: the one that the record names. */
  readonly jobNumber: string;
};

/**
 * Puts the numbers of a prescription or of lens-order records to a job that is there. What stands with the same value is left;
 * a new value stands from now on and the old one stays on record. An open case is weighed again.
 */
export async function takeRecord(
  shell: Shell,
  shopId: string,
  given: GivenRecord,
  by: string,
): Promise<Checked<{ jobId: string; jobNumber: string; count: number }>> {
  const read = readRecord(given.text, given.meaning);
  if (!read.ok) return read;
  const jobNumber = given.jobNumber.trim() || (read.value.jobNumber ?? '');
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const [job] = jobNumber === '' ? [] : await jobsByKey(trx, shopId, [jobNumber]);
    if (!job)
      return bad({
        code: 'no-job',
        what: jobNumber === '' ? 'It is not said which job this is for.' : `There is no job ${jobNumber}.`,
        where: 'job_number',
        mend: 'Write the number of a job that is here; take the job in first if it is not.',
      });
    const here = new Map<string, string>();
    for (const { key, eye, value } of await factsOf(trx, shopId, job.job_id))
      here.set(`${key} ${eye}`, JSON.stringify(value));
    const rows = read.value.facts
      .filter(({ key, eye, value }) => here.get(`${key} ${eye}`) !== JSON.stringify(value))
      .map(({ key, eye, value, unit, how, source, from }) => ({
        jobId: job.job_id,
        key,
        eye,
        value,
        unit,
        how: [from, how].filter((part) => part !== '').join('; '),
        by,
        source,
      }));
    await addFacts(trx, shopId, rows, now);
    const pair = await trx
      .selectFrom('pair')
      .select('pair_id')
      .where('shop_id', '=', shopId)
      .where('job_id', '=', job.job_id)
      .executeTakeFirst();
    const file = pair && rows.length > 0 ? await openCaseOf(trx, shopId, pair.pair_id) : undefined;
    if (file) {
      for (const { key, eye, value, how } of rows)
        await addCaseEvent(trx, shopId, file.case_id, 'fact', { key, eye, value, how }, by, now);
      await rankCase(trx, shopId, file, now);
    }
    return good({ jobId: job.job_id, jobNumber, count: rows.length });
  });
}

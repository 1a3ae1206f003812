import type { Hono } from 'hono';
import type { JobView } from '../../../dashboard/job/view.ts';
import { REMAKE_BEARERS, REMAKE_REASONS, remakeJob, whyNot } from '../../followup/remakeJob.ts';
import type { Db } from '../../store/database.ts';
import { findPair } from '../../store/jobs.ts';
import { designsOf } from '../../store/lensBook.ts';
import type { JobWhole } from '../../store/pages/deliveries.ts';
import { trouble } from '../trouble.tsx';
import { back, field, personName, type Web } from '../web.ts';

/** A pair made again without a case: it counts all the same. */
export function remakesRoutes(app: Hono<Web>): void {
  app.post('/jobs/:id/remake', async (c) => {
    const room = c.get('room');
    const id = c.req.param('id');
    const asked = {
      reason: field(c, 'reason'),
      borneBy: field(c, 'borne_by'),
      toDesign: field(c, 'to_design'),
    };
    const done = await remakeJob(room.shell, room.shopId, id, asked, await personName(room));
    if (!done.ok) {
      const gone = done.problems.find(({ code }) => code === 'no-job');
      return gone ? trouble(c, 404, gone.what, gone.mend) : back(c, `/jobs/${id}`, done.problems);
    }
    const claim = asked.borneBy === 'the lab' ? ' Note what you ask of the lab under Claims on labs.' : '';
    return back(c, `/jobs/${done.value.jobId}`, {
      kind: 'done',
      text: `This is the new job, ${done.value.jobKey}. What was ordered before is carried over unless the order was at fault.${claim}`,
    });
  });
}

/** Choices for making a job's pair again; undefined where it cannot be: not handed over, a case open, made again already. */
export async function remakeChoices(
  db: Db,
  shopId: string,
  job: Pick<JobWhole, 'pair_id' | 'design_id'>,
): Promise<JobView['remake']> {
  const pair = job.pair_id === null ? undefined : await findPair(db, shopId, job.pair_id);
  if (!pair || (await whyNot(db, shopId, pair))) return undefined;
  const same = (word: string) => ({ value: word, words: word });
  return {
    reasons: REMAKE_REASONS.map(same),
    bearers: REMAKE_BEARERS.map(same),
    designs: (await designsOf(db, shopId))
      .filter((design) => design.design_id !== job.design_id)
      .map((design) => ({ value: design.design_id, words: design.name })),
  };
}

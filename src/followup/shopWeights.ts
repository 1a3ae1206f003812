import { type LearnedWeights, learnWeights } from '../causes/learnWeights.ts';
import { bad, type Checked, good } from '../problems.ts';
import { addAudit } from '../store/audit.ts';
import type { Db, Trx } from '../store/database.ts';
import { findPair } from '../store/jobs.ts';
import { addWeightMove, speakingOutcomes } from '../store/weights.ts';
import type { Shell } from './shell.ts';

/** The newest outcomes speak; a shop that has more than these has long left the catalogue's weights behind. */
const MOST_OUTCOMES = 1000;

/** The shop's own starting weights: the catalogue's, moved by its outcomes whose cause a person confirmed. */
export async function shopWeights(db: Db | Trx, shopId: string): Promise<LearnedWeights> {
  const rows = await speakingOutcomes(db, shopId, MOST_OUTCOMES);
  return learnWeights(
    rows.map(({ pair_id: caseId, cause, how, left_out: withdrawn }) => ({ caseId, cause, how, withdrawn })),
  );
}

/** Leaves an outcome out of the weights, or counts it again. Rankings that were kept stay as they were. */
export async function moveWeight(
  shell: Shell,
  shopId: string,
  pairId: string,
  act: 'left out' | 'counted again',
  by: string,
): Promise<Checked<null>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    if (!(await findPair(trx, shopId, pairId)))
      return bad({
        code: 'no-pair',
        what: 'There is no such pair.',
        where: 'pair_id',
        mend: 'Load the page again.',
      });
    await addWeightMove(trx, shopId, { pairId, act, by }, now);
    await addAudit(
      trx,
      shopId,
      { by, act: `outcome ${act} in the weights`, subject: pairId, detail: {} },
      now,
    );
    return good(null);
  });
}

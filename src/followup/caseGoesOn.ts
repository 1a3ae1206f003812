import { addCaseEvent, changeCase, openCaseOf } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';

/**
 * The second pair is in the wearer's hands: the open case of the first goes on with it, so that replies, numbers and deadlines are
 * the new pair's, and the case closes on its outcome. What was told of the first pair stays in the history and is not
 * held against the second; the first question to the wearer asks after it.
 */
export async function caseGoesOn(
  trx: Trx,
  shopId: string,
  firstPairId: string,
  secondPairId: string,
  now: Date,
): Promise<void> {
  const file = await openCaseOf(trx, shopId, firstPairId);
  if (!file) return;
  await changeCase(
    trx,
    shopId,
    file.case_id,
    {
      pair_id: secondPairId,
      state: 'asked the wearer',
      labels: [],
      leading_cause: null,
      leading_share: null,
      leading_why: null,
      act: null,
      act_way: null,
      act_why: null,
      question: null,
    },
    now,
  );
  await addCaseEvent(
    trx,
    shopId,
    file.case_id,
    'second pair',
    { from: firstPairId, to: secondPairId, labels: file.labels, cause: file.leading_cause },
    'Afterfit',
    now,
  );
}

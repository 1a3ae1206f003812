import { answerFacts } from '../causes/questions.ts';
import type { Label } from '../replies/types.ts';
import { addCaseEvents, type CaseChange, changeCase, openCase, openCaseOf } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { addFacts, findPair } from '../store/jobs.ts';
import type { QuestionAsked } from '../store/senders.ts';
import type { Shop } from '../store/shops.ts';
import type { Wearer } from '../store/wearers.ts';
import { rankCase } from './rankCase.ts';
import type { Inbound, Understood } from './sortInbound.ts';
import { belongsInCase, GOING, opensCase } from './troubles.ts';

/**
 * Opens a case for the pair, or joins the open one: its labels grow, an answered question becomes a fact of the job, and the
 * causes are weighed anew. Returns the case, or null when there was nothing to open one for.
 */
export async function joinCase(
  trx: Trx,
  shop: Shop,
  wearer: Wearer,
  pairId: string,
  inbound: Inbound,
  reading: Understood,
  asked: QuestionAsked | undefined,
  now: Date,
): Promise<string | null> {
  const shopId = shop.shop_id;
  const saidThree = reading.bareAnswer?.questionId === 'check-in' && reading.bareAnswer.answer === '3';
  const bringsCase = reading.urgent || saidThree || reading.labels.some(opensCase);
  const found = await openCaseOf(trx, shopId, pairId);
  if (!found && !bringsCase) return null;
  const file = found ?? (await openCase(trx, shopId, pairId, wearer.wearer_id, now));
  await noteAnswer(trx, shopId, pairId, reading, asked, now);
  const said = reading.labels.filter(belongsInCase);
  const allWell = said.includes('settled') && !reading.urgent && !said.some(opensCase);
  const labels = allWell ? said : openLabels(file.labels, said);
  const inboundId = inbound.inboundId;
  await addCaseEvents(
    trx,
    shopId,
    file.case_id,
    [
      ...(found ? [] : [{ kind: 'opened', detail: { inbound: inboundId }, by: 'Afterfit' }]),
      {
        kind: reading.urgent ? 'danger sign' : allWell ? 'says that all is well' : 'reply',
        detail: { inbound: inboundId, labels: reading.labels },
        by: 'the wearer',
      },
    ],
    now,
  );
  const change: CaseChange = {
    labels,
    newest_inbound_id: inboundId,
    danger: file.danger || reading.urgent,
    ...(file.state === 'asked the wearer' ? { state: 'new' as const } : {}),
  };
  if (allWell) {
    await changeCase(trx, shopId, file.case_id, { ...change, ...NOTHING_TO_RANK }, now);
    return file.case_id;
  }
  await rankCase(
    trx,
    shopId,
    { case_id: file.case_id, pair_id: pairId, wearer_id: wearer.wearer_id, labels },
    now,
    change,
  );
  return file.case_id;
}

/** The wearer says that all is well: nothing is ranked, a person looks once more and closes. */
const NOTHING_TO_RANK = {
  leading_cause: null,
  leading_share: null,
  leading_why: null,
  act: null,
  act_way: null,
  act_why: null,
  question: null,
} as const;

/** The troubles of the case grow with each reply; how it is going is only what was said last. */
function openLabels(before: readonly string[], said: readonly Label[]): string[] {
  return [...new Set([...before.filter((label) => !GOING.has(label as Label)), ...said])];
}

/** A tap answer to a follow-up question is a fact of the job, told by the wearer. */
async function noteAnswer(
  trx: Trx,
  shopId: string,
  pairId: string,
  reading: Understood,
  asked: QuestionAsked | undefined,
  now: Date,
): Promise<void> {
  const bare = reading.bareAnswer;
  if (!bare || !asked) return;
  const pair = await findPair(trx, shopId, pairId);
  if (!pair) return;
  const facts = answerFacts(bare.questionId, bare.answer);
  await addFacts(
    trx,
    shopId,
    Object.entries(facts).map(([key, value]) => ({
      jobId: pair.job_id,
      key,
      eye: null,
      value,
      unit: null,
      how: `answered “${bare.answer}”`,
      by: 'the wearer',
      source: 'wearer',
    })),
    now,
  );
}

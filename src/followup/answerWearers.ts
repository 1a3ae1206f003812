import type { Question } from '../../templates/types.ts';
import { adviceFor } from '../causes/advice.ts';
import type { Label } from '../replies/types.ts';
import { addCaseEvent, changeCase, findCase, questionsAsked } from '../store/cases.ts';
import type { Db, Trx } from '../store/database.ts';
import { automaticAnswersSince, writeMessage } from '../store/messages.ts';
import { findShop } from '../store/shops.ts';
import { contactsOf, lockWearer } from '../store/wearers.ts';
import { QUIET_AFTER_INBOUND_MS } from './decideDue.ts';
import { heldWhy } from './heldWhy.ts';
import { startOfLocalDay } from './localDays.ts';
import { localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';
import { TROUBLES } from './troubles.ts';
import { whatIsNotRight } from './whatIsNotRight.ts';
import { answerLetter, say } from './words.ts';

export const ANSWERS_A_DAY = 3;
export const QUESTIONS_A_DAY = 2;
export const QUESTIONS_A_CASE = 5;

/**
 * Answers wearers who have written, two minutes after the last of what they wrote, once for all of it. Not while a person
 * holds the case, and at most three times a day; what is left unanswered stays on the bench for a person.
 */
export async function answerWearers(shell: Shell): Promise<number> {
  const now = shell.clock.now();
  let answered = 0;
  for (const { shop_id, wearer_id } of await wearersWaiting(
    shell.db,
    new Date(now.getTime() - QUIET_AFTER_INBOUND_MS),
  )) {
    try {
      answered += await shell.db
        .transaction()
        .execute((trx) => answerWearer(trx, shop_id, wearer_id, now, shell.links?.(shop_id)?.base));
    } catch (error) {
      shell.log.error(
        { shop: shop_id, wearer: wearer_id, error: String(error) },
        'an answer could not be written',
      );
    }
  }
  return answered;
}

async function wearersWaiting(db: Db, quietSince: Date): Promise<{ shop_id: string; wearer_id: string }[]> {
  const rows = await db
    .selectFrom('inbound_standing')
    .select(['shop_id', 'wearer_id'])
    .where('answer_state', '=', 'waiting')
    .groupBy(['shop_id', 'wearer_id'])
    .having((max) => max.fn.max('received_at'), '<=', quietSince)
    .limit(500)
    .execute();
  return rows.flatMap((row) =>
    row.wearer_id === null ? [] : [{ shop_id: row.shop_id, wearer_id: row.wearer_id }],
  );
}

async function answerWearer(
  trx: Trx,
  shopId: string,
  wearerId: string,
  now: Date,
  linksAt: string | undefined,
): Promise<number> {
  const wearer = await lockWearer(trx, shopId, wearerId);
  if (!wearer) return 0;
  const waiting = await waitingReadings(trx, shopId, wearerId);
  const newest = waiting.at(-1);
  if (!newest) return 0;
  const settle = (state: 'answered' | 'left') =>
    trx
      .updateTable('inbound_standing')
      .set({ answer_state: state })
      .where('shop_id', '=', shopId)
      .where(
        'inbound_id',
        'in',
        waiting.map((one) => one.inbound_id),
      )
      .execute();

  const zones = wearer.zone_candidates;
  const today = startOfLocalDay(now, zones);
  const held = await heldWhy(trx, shopId, wearer);
  const sentToday = await automaticAnswersSince(trx, shopId, wearerId, today);
  const contact = (await contactsOf(trx, shopId, wearerId)).find(
    (one) =>
      // What came by a wearer's page is answered at the address that its link went to.
      (one.channel === newest.channel || newest.channel === 'page') &&
      one.address === newest.from_address &&
      one.unusable_why === null &&
      one.consent === 'given',
  );
  if (held !== null || sentToday >= ANSWERS_A_DAY || !contact) {
    await settle('left');
    return 0;
  }

  const shop = await findShop(trx, shopId);
  const labels = [...new Set(waiting.flatMap((one) => one.labels))] as Label[];
  const asks = [...new Set(waiting.flatMap((one) => one.asks))];
  const caseId = waiting.map((one) => one.case_id).findLast((id) => id !== null) ?? null;
  const file = caseId === null ? undefined : await findCase(trx, shopId, caseId);
  const mayAsk = file ? await mayAskMore(trx, shopId, file.case_id, today) : false;
  const troubled = labels.some((label) => TROUBLES.has(label));
  const saidThree = waiting.some((one) => isThree(one.bare_answer)) && !troubled;
  const asked = saidThree ? whatIsNotRight : (file?.question as Question | null | undefined);
  const question = mayAsk && asked ? asked : null;
  const letter = answerLetter({
    labels,
    asks,
    troubled: troubled || saidThree,
    stale: waiting.every(
      (one) => one.bare_answer !== null && one.labels.length === 0 && !isThree(one.bare_answer),
    ),
    explainedBy: file?.act === 'coach' ? adviceFor(file.leading_cause, labels) : null,
    question,
  });
  if (!letter) {
    await settle('left');
    return 0;
  }
  const said = say(shop, wearer, contact.channel, letter, { linksAt });
  const messageId =
    said &&
    (await writeMessage(
      trx,
      shopId,
      {
        onceKey: `answer:${newest.inbound_id}`,
        wearerId,
        pairId: newest.pair_id,
        caseId,
        purpose: letter.purpose,
        unasked: false,
        automatic: true,
        channel: contact.channel,
        contactId: contact.contact_id,
        ...said,
        inAnswerTo: newest.inbound_id,
        localDay: localDay(now, zones[0]!),
        sendAt: now,
      },
      now,
    ));
  await settle(messageId ? 'answered' : 'left');
  if (messageId && file && letter.purpose === 'question') {
    await changeCase(trx, shopId, file.case_id, { state: 'asked the wearer' }, now);
    await addCaseEvent(
      trx,
      shopId,
      file.case_id,
      'asked',
      { message: messageId, question: letter.question.id },
      'Afterfit',
      now,
    );
  }
  return messageId ? 1 : 0;
}

const isThree = (bare: unknown): boolean =>
  typeof bare === 'object' &&
  bare !== null &&
  'questionId' in bare &&
  bare.questionId === 'check-in' &&
  'answer' in bare &&
  bare.answer === '3';

async function waitingReadings(trx: Trx, shopId: string, wearerId: string) {
  return trx
    .selectFrom('inbound_standing as s')
    .innerJoin('inbound as i', (join) =>
      join.onRef('i.shop_id', '=', 's.shop_id').onRef('i.inbound_id', '=', 's.inbound_id'),
    )
    .innerJoin('reading as r', (join) =>
      join.onRef('r.shop_id', '=', 's.shop_id').onRef('r.inbound_id', '=', 's.inbound_id'),
    )
    .select([
      's.inbound_id',
      's.pair_id',
      's.case_id',
      'i.channel',
      'i.from_address',
      'r.labels',
      'r.asks',
      'r.bare_answer',
    ])
    .where('s.shop_id', '=', shopId)
    .where('s.wearer_id', '=', wearerId)
    .where('s.answer_state', '=', 'waiting')
    .orderBy('s.received_at')
    .orderBy('r.at')
    .execute();
}

async function mayAskMore(trx: Trx, shopId: string, caseId: string, today: Date): Promise<boolean> {
  const asked = await questionsAsked(trx, shopId, caseId);
  return asked.length < QUESTIONS_A_CASE && asked.filter((one) => one.at >= today).length < QUESTIONS_A_DAY;
}

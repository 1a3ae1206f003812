import type { Question } from '../../templates/types.ts';
import { answerFacts } from '../causes/questions.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { addCaseEvent, type CaseChange, type CaseFile, changeCase, findCase } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { addFacts, findPair, type NewFact } from '../store/jobs.ts';
import { writeMessage } from '../store/messages.ts';
import { dropPlanned, planOf, setPlan } from '../store/plans.ts';
import { findShop, type Shop } from '../store/shops.ts';
import { CASE_STATES, type CaseState, type ChannelKind, OUTCOMES, type Outcome } from '../store/tables.ts';
import { contactsOf, findWearer, type ReachableContact, type Wearer } from '../store/wearers.ts';
import { localDay } from './planSlots.ts';
import { rankCase } from './rankCase.ts';
import type { Shell } from './shell.ts';
import { takeBack, type Was } from './takeBack.ts';
import { leavesAt, unsend } from './unsend.ts';
import { type Said, say } from './words.ts';

const LONGEST_MESSAGE = 1600;

export type CaseAct =
  /** Holds the case, with the day on which to look at it again. */
  | { readonly kind: 'hold'; readonly againOn?: string | null }
  | { readonly kind: 'release' }
  /** "I have it": a person has taken the danger on. */
  | { readonly kind: 'have it' }
  | { readonly kind: 'write'; readonly text: string; readonly channel: ChannelKind; readonly onceKey: string }
  | { readonly kind: 'note'; readonly text: string }
  /** Puts the question that splits the causes best to the wearer now. */
  | { readonly kind: 'ask'; readonly channel: ChannelKind; readonly onceKey: string }
  /** The wearer answered the question on the phone or at the counter. */
  | { readonly kind: 'answered'; readonly questionId: string; readonly answer: string }
  | { readonly kind: 'reopen' }
  /** Takes an act of this case back by a second event. */
  | { readonly kind: 'take back'; readonly eventId: string }
  /** Takes back what a person sent and what has not left yet. */
  | { readonly kind: 'unsend'; readonly messageId: string }
  /** Puts right a message of ours that was sent: a second message that says so. */
  | { readonly kind: 'correct'; readonly messageId: string; readonly text: string; readonly onceKey: string }
  | { readonly kind: 'state'; readonly state: CaseState; readonly againOn?: string | undefined }
  | {
      readonly kind: 'act';
      readonly act: string;
      readonly way: string;
      readonly note: string;
      readonly state: CaseState;
    }
  | { readonly kind: 'fact'; readonly fact: Omit<NewFact, 'jobId'> }
  | {
      readonly kind: 'close';
      readonly outcome: Outcome;
      readonly reason: string | null;
      readonly borneBy: string | null;
      readonly cause: string | null;
      readonly causeHow: string | null;
    };

type Acting = { trx: Trx; shopId: string; file: CaseFile; by: string; now: Date };

/**
 * One act of a person on a case. `seenVersion` is the version that was on the screen: an act on a case that somebody else
 * changed meanwhile is refused, with what to do, and nothing is changed.
 */
export async function actOnCase(
  shell: Shell,
  shopId: string,
  caseId: string,
  act: CaseAct,
  by: string,
  seenVersion?: number,
): Promise<Checked<{ caseId: string }>> {
  const now = shell.clock.now();
  return shell.db.transaction().execute(async (trx) => {
    const file = await findCase(trx, shopId, caseId);
    if (!file) return bad(problem('no-case', 'There is no such case.', 'Open it again from the bench.'));
    if (file.closed_at !== null && !ON_A_CLOSED_CASE.has(act.kind)) {
      return bad(
        problem('case-closed', 'This case is closed.', 'A new reply of the wearer opens the next one.'),
      );
    }
    if (seenVersion !== undefined && file.version !== seenVersion) {
      return bad(
        problem(
          'case-changed',
          'Somebody changed this case after you opened it. Nothing was done.',
          'Read what is new on the case, then press again.',
        ),
      );
    }
    const done = await carryOut({ trx, shopId, file, by, now }, act);
    return done.ok ? good({ caseId }) : done;
  });
}

const ON_A_CLOSED_CASE: ReadonlySet<CaseAct['kind']> = new Set<CaseAct['kind']>([
  'note',
  'reopen',
  'take back',
  'unsend',
]);

const problem = (code: string, what: string, mend: string): Problem => ({ code, what, where: 'case', mend });

async function carryOut(acting: Acting, act: CaseAct): Promise<Checked<null>> {
  switch (act.kind) {
    case 'hold':
      return hold(acting, act.againOn ?? null);
    case 'release':
      return change(
        acting,
        { held_by: null, again_on: null, state: acting.file.state === 'held' ? 'new' : acting.file.state },
        'released',
        {},
      );
    case 'take back':
      return takeBack(acting.trx, acting.file, act.eventId, acting.by, acting.now);
    case 'unsend':
      return unsend(acting.trx, acting.file, act.messageId, acting.by, acting.now);
    case 'correct':
      return correct(acting, act);
    case 'have it':
      return change(acting, { held_by: acting.by, state: 'held' }, 'I have it', {});
    case 'note':
      await event(acting, 'note', { text: act.text });
      return good(null);
    case 'state':
      if (!CASE_STATES.includes(act.state))
        return bad(problem('state', `“${act.state}” is no state of a case.`, 'Choose one of the list.'));
      return change(acting, { state: act.state, again_on: act.againOn ?? null }, 'state', {
        state: act.state,
        againOn: act.againOn ?? null,
      });
    case 'act':
      return decideAct(acting, act);
    case 'write':
      return writeToWearer(acting, act);
    case 'ask':
      return ask(acting, act);
    case 'answered':
      return answered(acting, act.questionId, act.answer);
    case 'reopen':
      return change(acting, { closed_at: null, outcome: null, state: 'new' }, 'reopened', {});
    case 'fact':
      return noteFact(acting, act.fact);
    case 'close':
      return close(acting, act);
  }
}

async function change(
  acting: Acting,
  what: CaseChange,
  kind: string,
  detail: Record<string, unknown>,
): Promise<Checked<null>> {
  await changeCase(acting.trx, acting.shopId, acting.file.case_id, what, acting.now);
  await event(acting, kind, { ...detail, ...standing(acting.file, what) });
  return good(null);
}

/** What the act changes, as it was and as it will be: kept with the act, so that it can be taken back. */
const standing = (file: CaseFile, what: CaseChange): Partial<Was> =>
  Object.keys(what).length === 0
    ? {}
    : {
        was: Object.fromEntries(Object.keys(what).map((key) => [key, file[key as keyof CaseFile]])),
        now: what as Partial<CaseFile>,
      };

async function hold(acting: Acting, againOn: string | null): Promise<Checked<null>> {
  if (againOn !== null && !/^\d{4}-\d{2}-\d{2}$/.test(againOn))
    return bad(problem('again-on', `“${againOn}” is no day.`, 'Choose a day, or leave it empty.'));
  return change(acting, { held_by: acting.by, state: 'held', again_on: againOn }, 'held', { againOn });
}

const event = ({ trx, shopId, file, by, now }: Acting, kind: string, detail: Record<string, unknown>) =>
  addCaseEvent(trx, shopId, file.case_id, kind, detail, by, now);

/** The act is kept with the ranking that was on the screen, so that it can be told later what was known. */
async function decideAct(acting: Acting, act: Extract<CaseAct, { kind: 'act' }>): Promise<Checked<null>> {
  const shown = await acting.trx
    .selectFrom('ranking_snapshot')
    .select('snapshot_id')
    .where('shop_id', '=', acting.shopId)
    .where('case_id', '=', acting.file.case_id)
    .orderBy('at', 'desc')
    .limit(1)
    .executeTakeFirst();
  return change(acting, { state: act.state }, 'act', {
    act: act.act,
    way: act.way,
    note: act.note,
    suggested: acting.file.act,
    leadingCause: acting.file.leading_cause,
    ranking: shown?.snapshot_id ?? null,
  });
}

async function writeToWearer(
  acting: Acting,
  act: Extract<CaseAct, { kind: 'write' }>,
): Promise<Checked<null>> {
  const text = act.text.trim();
  if (text === '')
    return bad({
      code: 'empty',
      what: 'There is nothing to send.',
      where: 'text',
      mend: 'Write the message first.',
    });
  if (text.length > LONGEST_MESSAGE) {
    return bad({
      code: 'too-long',
      what: `The message has ${text.length} characters; ${LONGEST_MESSAGE} are allowed.`,
      where: 'text',
      mend: 'Shorten it or split it.',
    });
  }
  const to = await reach(acting, act.channel);
  if (!to.ok) return to;
  const said = say(to.value.shop, to.value.wearer, act.channel, { purpose: 'staff', words: text });
  return send(acting, act.channel, to.value, `staff:${act.onceKey}`, 'staff', said, 'wrote', {});
}

/** A message that was sent is put right by another one, by the same way; both stay in the talk. */
async function correct(acting: Acting, act: Extract<CaseAct, { kind: 'correct' }>): Promise<Checked<null>> {
  const words = act.text.trim();
  const sent = await acting.trx
    .selectFrom('message')
    .select(['channel', 'wearer_id'])
    .where('shop_id', '=', acting.shopId)
    .where('message_id', '=', act.messageId)
    .executeTakeFirst();
  if (!sent || sent.wearer_id !== acting.file.wearer_id || words === '' || words.length > LONGEST_MESSAGE)
    return bad({
      code: 'correction',
      what: words === '' ? 'There is nothing to send.' : 'This cannot be sent as a correction.',
      where: 'text',
      mend: 'Write what is right, in a few words, under the message that it puts right.',
    });
  const to = await reach(acting, sent.channel);
  if (!to.ok) return to;
  const said = say(to.value.shop, to.value.wearer, sent.channel, { purpose: 'correction', words });
  return send(acting, sent.channel, to.value, `correct:${act.onceKey}`, 'correction', said, 'corrected', {
    corrects: act.messageId,
  });
}

async function ask(acting: Acting, act: Extract<CaseAct, { kind: 'ask' }>): Promise<Checked<null>> {
  const question = acting.file.question as Question | null;
  if (question === null) {
    return bad({
      code: 'no-question',
      what: 'No question would change what to do.',
      where: 'question',
      mend: 'Act, or write in your own words.',
    });
  }
  const to = await reach(acting, act.channel);
  if (!to.ok) return to;
  const said = say(to.value.shop, to.value.wearer, act.channel, { purpose: 'question', question });
  const done = await send(acting, act.channel, to.value, `asked:${act.onceKey}`, 'question', said, 'asked', {
    question: question.id,
    stateWas: acting.file.state,
  });
  if (done.ok)
    await changeCase(
      acting.trx,
      acting.shopId,
      acting.file.case_id,
      { state: 'asked the wearer' },
      acting.now,
    );
  return done;
}

type Reached = { readonly shop: Shop; readonly wearer: Wearer; readonly contact: ReachableContact };

/** The wearer's contact of a channel, if it may be used. */
async function reach({ trx, shopId, file }: Acting, channel: ChannelKind): Promise<Checked<Reached>> {
  const refuse = (code: string, what: string) =>
    bad({ code, what, where: 'channel', mend: 'Choose another way, or ring.' });
  const wearer = await findWearer(trx, shopId, file.wearer_id);
  const contact = (await contactsOf(trx, shopId, file.wearer_id)).find((one) => one.channel === channel);
  if (!wearer || !contact) return refuse('no-contact', `There is no ${channel} contact for this wearer.`);
  if (contact.consent === 'withdrawn') return refuse('stopped', `The wearer said stop to ${channel}s.`);
  if (contact.consent === 'none') return refuse('no-consent', `The wearer has not agreed to ${channel}s.`);
  if (contact.unusable_why !== null)
    return refuse('unusable', `This address cannot be used: ${contact.unusable_why}.`);
  return good({ shop: await findShop(trx, shopId), wearer, contact });
}

async function send(
  acting: Acting,
  channel: ChannelKind,
  { wearer, contact }: Reached,
  onceKey: string,
  purpose: string,
  said: Said,
  kind: string,
  detail: Record<string, unknown>,
): Promise<Checked<null>> {
  const { trx, shopId, file, by, now } = acting;
  const messageId = await writeMessage(
    trx,
    shopId,
    {
      onceKey,
      wearerId: file.wearer_id,
      pairId: file.pair_id,
      caseId: file.case_id,
      purpose,
      unasked: false,
      automatic: false,
      channel,
      contactId: contact.contact_id,
      ...said,
      inAnswerTo: file.newest_inbound_id,
      writtenBy: by,
      localDay: localDay(now, wearer.zone_candidates[0]!),
      sendAt: leavesAt(now),
    },
    now,
  );
  return messageId === undefined ? good(null) : change(acting, {}, kind, { ...detail, message: messageId });
}

/** An answer heard by staff is a fact of the job like one that was texted. */
async function answered(acting: Acting, questionId: string, answer: string): Promise<Checked<null>> {
  const { trx, shopId, file, by, now } = acting;
  const facts = answerFacts(questionId, answer);
  const pair = await findPair(trx, shopId, file.pair_id);
  if (!pair || Object.keys(facts).length === 0)
    return bad(problem('answer', 'That is no answer to this question.', 'Choose one of its answers.'));
  await addFacts(
    trx,
    shopId,
    Object.entries(facts).map(([key, value]) => ({
      jobId: pair.job_id,
      key,
      eye: null,
      value,
      unit: null,
      how: `told to ${by}`,
      by,
      source: 'wearer',
    })),
    now,
  );
  await event(acting, 'asked', { question: questionId });
  await event(acting, 'answered', { question: questionId, answer });
  await rankCase(trx, shopId, file, now);
  return good(null);
}

/** A measured fact joins the others, and the causes are weighed again with it. */
async function noteFact(acting: Acting, fact: Omit<NewFact, 'jobId'>): Promise<Checked<null>> {
  const { trx, shopId, file, now } = acting;
  const pair = await findPair(trx, shopId, file.pair_id);
  if (!pair)
    return bad(problem('no-pair', 'The pair of this case is gone.', 'Tell whoever looks after the program.'));
  await addFacts(trx, shopId, [{ ...fact, jobId: pair.job_id }], now);
  await event(acting, 'fact', { key: fact.key, eye: fact.eye, value: fact.value, how: fact.how });
  await rankCase(trx, shopId, file, now);
  return good(null);
}

async function close(acting: Acting, act: Extract<CaseAct, { kind: 'close' }>): Promise<Checked<null>> {
  const { trx, shopId, file, by, now } = acting;
  if (!OUTCOMES.includes(act.outcome))
    return bad(problem('outcome', `“${act.outcome}” is no outcome.`, 'Choose one of the list.'));
  const settled = act.outcome === 'settled' || act.outcome === 'settled after adjusting';
  if (settled && (await inTray(trx, shopId, file.wearer_id))) {
    return bad(
      problem(
        'tray',
        'Something of this wearer is still in the tray.',
        'Look at it in the tray first; a case cannot become settled before.',
      ),
    );
  }
  const wearer = await findWearer(trx, shopId, file.wearer_id);
  const today = localDay(now, wearer?.zone_candidates[0] ?? 'UTC');
  const outcomeWas = await trx
    .selectFrom('outcome')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('pair_id', '=', file.pair_id)
    .executeTakeFirst();
  const plan = await planOf(trx, shopId, file.pair_id);
  await trx
    .insertInto('outcome')
    .values({
      shop_id: shopId,
      pair_id: file.pair_id,
      outcome: act.outcome,
      exchanged_to: null,
      reason: act.reason,
      borne_by: act.borneBy,
      cause: act.cause,
      cause_how: act.causeHow,
      on_day: today,
      by_name: by,
      at: now,
    })
    .onConflict((clash) =>
      clash.columns(['shop_id', 'pair_id']).doUpdateSet({
        outcome: act.outcome,
        reason: act.reason,
        borne_by: act.borneBy,
        cause: act.cause,
        cause_how: act.causeHow,
        on_day: today,
        by_name: by,
        at: now,
      }),
    )
    .execute();
  if (!settled) {
    await setPlan(trx, shopId, file.pair_id, 'ended', act.outcome, now);
    await dropPlanned(trx, shopId, file.pair_id, act.outcome);
  } else {
    await setPlan(trx, shopId, file.pair_id, 'running', null, now);
  }
  return change(
    acting,
    {
      closed_at: now,
      outcome: act.outcome,
      held_by: null,
      danger: false,
      state: settled ? 'settled' : 'returned',
    },
    'closed',
    {
      outcome: act.outcome,
      reason: act.reason,
      cause: act.cause,
      causeHow: act.causeHow,
      outcomeWas: outcomeWas ?? null,
      planWas: plan ? { state: plan.state, why: plan.why } : null,
    },
  );
}

async function inTray(trx: Trx, shopId: string, wearerId: string): Promise<boolean> {
  const row = await trx
    .selectFrom('inbound_standing')
    .select('inbound_id')
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .where('state', '=', 'tray')
    .limit(1)
    .executeTakeFirst();
  return row !== undefined;
}

import type { Insertable } from 'kysely';
import { answerFacts } from '../causes/questions.ts';
import { bad, type Checked, good } from '../problems.ts';
import { addCaseEvent, type CaseChange, type CaseFile, changeCase } from '../store/cases.ts';
import type { Trx } from '../store/database.ts';
import { addFacts, factsOf, findPair, type NewFact } from '../store/jobs.ts';
import { takeBackDropped } from '../store/plans.ts';
import type { PlanState, Tables } from '../store/tables.ts';
import { rankCase } from './rankCase.ts';

/** What stood before an act on a case, kept with the act so that a second event can put it back. */
export type Was = {
  /** The fields of the case that the act changed, as they were and as it left them. */
  readonly was: Partial<CaseFile>;
  readonly now: Partial<CaseFile>;
};

type CaseEvent = { readonly kind: string; readonly detail: Record<string, unknown>; readonly at: Date };

/** Acts that a second event can take back. */
const CAN: ReadonlySet<string> = new Set([
  'held',
  'released',
  'state',
  'act',
  'note',
  'fact',
  'answered',
  'closed',
  'reopened',
]);

/** Why other acts cannot be taken back, and what to do instead. */
const CANNOT: Readonly<Record<string, readonly [what: string, mend: string]>> = {
  wrote: ['A message that was sent cannot be taken back.', 'Send a correction under the message.'],
  asked: ['A question that was sent cannot be taken back.', 'Send a correction under the message.'],
  corrected: ['A correction that was sent cannot be taken back.', 'Send another one.'],
  'I have it': [
    'The alarm has ended for everybody.',
    'Let the case go if you cannot ring; it stands in front.',
  ],
  'made again': [
    'The order is signed and the new job is drafted.',
    'Tell the lab if it was sent, and leave the drafted job unsent.',
  ],
};

/** Whether an act can be taken back: a note of the program (a paper that was signed) cannot, nor an act of before this was kept. */
export const canTakeBack = ({ kind, detail }: Pick<CaseEvent, 'kind' | 'detail'>): boolean =>
  CAN.has(kind) &&
  (kind === 'note'
    ? detail.paper === undefined && detail.message === undefined
    : kind === 'fact' || kind === 'answered' || detail.was !== undefined);

/**
 * Takes one act on a case back by a second event: what it changed is put as it was, unless something later changed the same. The
 * act itself stays in the history. What has left the house cannot be taken back, and says so.
 */
export async function takeBack(
  trx: Trx,
  file: CaseFile,
  eventId: string,
  by: string,
  now: Date,
): Promise<Checked<null>> {
  const shopId = file.shop_id;
  const events = await trx
    .selectFrom('case_event')
    .select(['event_id', 'kind', 'detail', 'at'])
    .where('shop_id', '=', shopId)
    .where('case_id', '=', file.case_id)
    .execute();
  const event = events.find((one) => one.event_id === eventId);
  if (!event) return refuse('no-event', 'There is no such act on this case.', 'Load the case again.');
  if (events.some((one) => one.kind === 'taken back' && one.detail.event === eventId))
    return refuse('taken-back', 'This was taken back already.', 'Nothing to do.');
  const cannot = CANNOT[event.kind];
  if (cannot) return refuse('cannot-take-back', cannot[0], cannot[1]);
  if (!canTakeBack(event))
    return refuse('cannot-take-back', 'This cannot be taken back.', 'Note on the case what is right.');
  const acting: Acting = { trx, file, by, now };
  const done =
    event.kind === 'fact' || event.kind === 'answered'
      ? await takeBackFacts(acting, event)
      : event.kind === 'note'
        ? good(null)
        : await putBack(acting, event);
  if (!done.ok) return done;
  await addCaseEvent(
    trx,
    shopId,
    file.case_id,
    'taken back',
    { event: eventId, act: event.kind, detail: event.detail },
    by,
    now,
  );
  return done;
}

type Acting = { readonly trx: Trx; readonly file: CaseFile; readonly by: string; readonly now: Date };

const refuse = (code: string, what: string, mend: string): Checked<never> =>
  bad({ code, what, where: 'event_id', mend });

/** Puts the fields of the case as they were; a closing also takes its outcome and the end of the plan back. */
async function putBack({ trx, file, now }: Acting, { kind, detail }: CaseEvent): Promise<Checked<null>> {
  const { was, now: left } = detail as Partial<Was>;
  if (!was || !left) return refuse('no-was', 'What stood before was not kept.', 'Set it as it should be.');
  const overtaken = (Object.keys(left) as (keyof CaseFile)[]).some((key) => !same(file[key], left[key]));
  if (overtaken)
    return refuse('overtaken', 'Something later changed the same.', 'Take the later act back first.');
  const closedAt = was.closed_at === undefined ? {} : { closed_at: dateOrNull(was.closed_at) };
  await changeCase(trx, file.shop_id, file.case_id, { ...(was as CaseChange), ...closedAt }, now);
  if (kind === 'closed') await takeBackOutcome(trx, file, detail, now);
  return good(null);
}

const dateOrNull = (value: unknown): Date | null => (value === null ? null : new Date(String(value)));

const same = (one: unknown, other: unknown): boolean => written(one) === written(other);
const written = (value: unknown): string =>
  JSON.stringify(value instanceof Date ? value.toISOString() : (value ?? null));

type OutcomeRow = Insertable<Tables['outcome']>;

async function takeBackOutcome(
  trx: Trx,
  file: CaseFile,
  detail: Record<string, unknown>,
  now: Date,
): Promise<void> {
  const { shop_id: shopId, pair_id: pairId } = file;
  const before = detail.outcomeWas as OutcomeRow | null;
  await trx.deleteFrom('outcome').where('shop_id', '=', shopId).where('pair_id', '=', pairId).execute();
  if (before)
    await trx
      .insertInto('outcome')
      .values({ ...before, at: new Date(String(before.at)) })
      .execute();
  const plan = detail.planWas as { state: PlanState; why: string | null } | null;
  if (plan) await takeBackDropped(trx, shopId, pairId, plan, String(detail.outcome), now);
}

/** A number is taken back by a newer row: the one that stood before it, or none. The causes are weighed again. */
async function takeBackFacts({ trx, file, by, now }: Acting, event: CaseEvent): Promise<Checked<null>> {
  const pair = (await findPair(trx, file.shop_id, file.pair_id))!;
  const rows = await factsOf(trx, file.shop_id, pair.job_id);
  const taken = placesOf(event);
  const back: NewFact[] = [];
  for (const { key, eye, value } of taken) {
    const held = rows.filter((row) => row.key === key && row.eye === eye);
    const newest = held.at(-1);
    if (!newest || !same(newest.value, value))
      return refuse('overtaken', 'A later number stands in its place.', 'Take the later one back first.');
    const before = held.at(-2);
    back.push({
      jobId: pair.job_id,
      key,
      eye,
      value: before?.value ?? null,
      unit: before?.unit ?? null,
      how: before?.how ?? `taken back by ${by}`,
      by: before?.by_name ?? by,
      source: before?.source ?? 'bench',
    });
  }
  if (back.length === 0) return refuse('no-fact', 'It set no number.', 'Nothing to do.');
  await addFacts(trx, file.shop_id, back, now);
  await rankCase(trx, file.shop_id, file, now);
  return good(null);
}

type Place = { readonly key: string; readonly eye: 'R' | 'L' | null; readonly value: unknown };

function placesOf({ kind, detail }: CaseEvent): Place[] {
  if (kind === 'fact')
    return [{ key: String(detail.key), eye: (detail.eye ?? null) as Place['eye'], value: detail.value }];
  return Object.entries(answerFacts(String(detail.question), String(detail.answer))).map(([key, value]) => ({
    key,
    eye: null,
    value,
  }));
}

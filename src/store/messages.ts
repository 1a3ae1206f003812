import { sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { AttemptState, ChannelKind } from './tables.ts';

export type NewMessage = {
  /** One message for one key, ever: `check-in:<id>`, `answer:<inbound id>`, `caution:<inbound id>`. */
  readonly onceKey: string;
  readonly wearerId: string;
  readonly pairId?: string | null;
  readonly caseId?: string | null;
  readonly checkInId?: string | null;
  readonly purpose: string;
  readonly unasked: boolean;
  readonly automatic: boolean;
  /** Repeated when it is not known whether the carrier took it: cautions and alarms. */
  readonly mustArrive?: boolean;
  /** May leave outside civil hours: the stop confirmation and the caution. */
  readonly anyHour?: boolean;
  readonly channel: ChannelKind;
  readonly contactId: string;
  readonly subject?: string | null;
  readonly body: string;
  readonly html?: string | null;
  readonly template?: string | null;
  readonly asked?: unknown;
  readonly inAnswerTo?: string | null;
  readonly writtenBy?: string | null;
  readonly localDay: string;
  readonly sendAt: Date;
};

/** Puts a message and its first attempt on record; undefined when the key was used already. */
export async function writeMessage(
  trx: Trx,
  shopId: string,
  message: NewMessage,
  at: Date,
): Promise<string | undefined> {
  return (await writeMessages(trx, shopId, [message], at)).get(message.onceKey);
}

/** The same for many, by their keys; a key that was used already is not in the answer. */
export async function writeMessages(
  trx: Trx,
  shopId: string,
  messages: readonly NewMessage[],
  at: Date,
): Promise<ReadonlyMap<string, string>> {
  if (messages.length === 0) return new Map();
  const made = await trx
    .insertInto('message')
    .values(messages.map((message) => messageRow(shopId, message, at)))
    .onConflict((clash) => clash.doNothing())
    .returning(['once_key', 'message_id'])
    .execute();
  const ids = new Map(made.map((row) => [row.once_key, row.message_id]));
  const first = messages.flatMap((message) => {
    const messageId = ids.get(message.onceKey);
    return messageId === undefined ? [] : [attemptRow(shopId, messageId, 1, message.sendAt, at)];
  });
  if (first.length > 0) await trx.insertInto('attempt').values(first).execute();
  return ids;
}

/** Withholds a message that nobody has taken up to send; false when it has left, or is about to. */
export async function withholdPlanned(
  trx: Trx,
  shopId: string,
  messageId: string,
  why: string,
  at: Date,
): Promise<boolean> {
  const done = await trx
    .updateTable('attempt')
    .set({ state: 'withheld', why, settled_at: at })
    .where('shop_id', '=', shopId)
    .where('message_id', '=', messageId)
    .where('state', '=', 'planned')
    .where('send_at', '>', at)
    .executeTakeFirst();
  return done.numUpdatedRows > 0n;
}

const messageRow = (shopId: string, message: NewMessage, at: Date) => ({
  shop_id: shopId,
  message_id: newId(at),
  once_key: message.onceKey,
  wearer_id: message.wearerId,
  pair_id: message.pairId ?? null,
  case_id: message.caseId ?? null,
  check_in_id: message.checkInId ?? null,
  purpose: message.purpose,
  unasked: message.unasked,
  automatic: message.automatic,
  must_arrive: message.mustArrive ?? false,
  any_hour: message.anyHour ?? false,
  channel: message.channel,
  contact_id: message.contactId,
  subject: message.subject ?? null,
  body: message.body,
  html: message.html ?? null,
  template: message.template ?? null,
  asked: message.asked === undefined ? null : JSON.stringify(message.asked),
  in_answer_to: message.inAnswerTo ?? null,
  written_by: message.writtenBy ?? null,
  local_day: message.localDay,
  created_at: at,
});

const attemptRow = (shopId: string, messageId: string, number: number, sendAt: Date, at: Date) => ({
  shop_id: shopId,
  attempt_id: newId(at),
  message_id: messageId,
  number,
  state: 'planned' as const,
  send_at: sendAt,
  lease_until: null,
  handed_over_at: null,
  settled_at: null,
  far_id: null,
  code: null,
  why: null,
});

export async function planAttempt(
  trx: Trx | Db,
  shopId: string,
  messageId: string,
  number: number,
  sendAt: Date,
  at: Date,
): Promise<void> {
  await trx
    .insertInto('attempt')
    .values(attemptRow(shopId, messageId, number, sendAt, at))
    .onConflict((clash) => clash.columns(['shop_id', 'message_id', 'number']).doNothing())
    .execute();
}

export type ClaimedAttempt = {
  shop_id: string;
  attempt_id: string;
  message_id: string;
  number: number;
};

/** A claim lasts this long; a process that dies between claim and hand-over is taken over after it. */
export const LEASE_MS = 60_000;

/**
 * Takes up to `limit` attempts that are due. The claim is an update that rechecks the state, so that of any number of
 * processes exactly one gets an attempt; `skip locked` only spares them the wait. An attempt whose claim ran out before it
 * was handed over was never given to a carrier and is taken again. The choice is made once and set aside (`materialized`):
 * joined without that it may be made anew for every row, and take more than the limit.
 */
export async function claimAttempts(db: Db, now: Date, limit: number): Promise<ClaimedAttempt[]> {
  const lease = new Date(now.getTime() + LEASE_MS);
  const claimed = await sql<ClaimedAttempt>`
    with due as materialized (
      select shop_id, attempt_id from attempt
      where send_at <= ${now} and (state = 'planned' or (state = 'claimed' and lease_until < ${now}))
      order by send_at limit ${limit} for update skip locked)
    update attempt a set state = 'claimed', lease_until = ${lease}
    where a.shop_id = any(array(select shop_id from due)) and a.attempt_id = any(array(select attempt_id from due))
      and a.state in ('planned', 'claimed')
    returning a.shop_id, a.attempt_id, a.message_id, a.number`.execute(db);
  return claimed.rows;
}

export type AttemptToSend = {
  shop_id: string;
  attempt_id: string;
  message_id: string;
  number: number;
  wearer_id: string;
  channel: ChannelKind;
  address: string;
  unusable_why: string | null;
  consent: 'none' | 'given' | 'withdrawn';
  purpose: string;
  unasked: boolean;
  automatic: boolean;
  any_hour: boolean;
  must_arrive: boolean;
  subject: string | null;
  body: string;
  html: string | null;
  in_answer_to: string | null;
  created_at: Date;
  zone_candidates: string[];
  last_inbound_at: Date | null;
};

/** What is needed to decide, at the moment of sending, whether a claimed attempt may go. */
export async function attemptsToSend(db: Db, claimed: readonly ClaimedAttempt[]): Promise<AttemptToSend[]> {
  if (claimed.length === 0) return [];
  return db
    .selectFrom('attempt as a')
    .innerJoin('message as m', (join) =>
      join.onRef('m.shop_id', '=', 'a.shop_id').onRef('m.message_id', '=', 'a.message_id'),
    )
    .innerJoin('contact_point as c', (join) =>
      join.onRef('c.shop_id', '=', 'm.shop_id').onRef('c.contact_id', '=', 'm.contact_id'),
    )
    .innerJoin('wearer_contact as wc', (join) =>
      join
        .onRef('wc.shop_id', '=', 'm.shop_id')
        .onRef('wc.wearer_id', '=', 'm.wearer_id')
        .onRef('wc.contact_id', '=', 'm.contact_id'),
    )
    .innerJoin('wearer as w', (join) =>
      join.onRef('w.shop_id', '=', 'm.shop_id').onRef('w.wearer_id', '=', 'm.wearer_id'),
    )
    .select((col) => [
      'a.shop_id',
      'a.attempt_id',
      'a.message_id',
      'a.number',
      'm.wearer_id',
      'm.channel',
      'c.address',
      'c.unusable_why',
      'wc.consent',
      'm.purpose',
      'm.unasked',
      'm.automatic',
      'm.any_hour',
      'm.must_arrive',
      'm.subject',
      'm.body',
      'm.html',
      'm.in_answer_to',
      'm.created_at',
      'w.zone_candidates',
      col
        .selectFrom('inbound_standing as s')
        .select((max) => max.fn.max('s.received_at').as('at'))
        .whereRef('s.shop_id', '=', 'm.shop_id')
        .whereRef('s.wearer_id', '=', 'm.wearer_id')
        .as('last_inbound_at'),
    ])
    .where(isOneOf('a', claimed))
    .where('a.state', '=', 'claimed')
    .execute();
}

/**
 * Says, before the carrier is called, that it is about to be: from here on a crash leaves an attempt unsure, not lost. Returns
 * the ids of those that were still ours to hand over.
 */
export async function markHandedOver(
  db: Db,
  attempts: readonly ClaimedAttempt[],
  now: Date,
): Promise<ReadonlySet<string>> {
  if (attempts.length === 0) return new Set();
  const done = await db
    .updateTable('attempt as a')
    .set({ state: 'handed over', handed_over_at: now, lease_until: new Date(now.getTime() + LEASE_MS) })
    .where(isOneOf('a', attempts))
    .where('a.state', '=', 'claimed')
    .returning('a.attempt_id')
    .execute();
  return new Set(done.map((row) => row.attempt_id));
}

/** What a carrier took, with its own id of each. */
export async function settleAccepted(
  db: Db,
  accepted: readonly (Pick<ClaimedAttempt, 'shop_id' | 'attempt_id'> & { readonly farId: string })[],
  now: Date,
): Promise<void> {
  if (accepted.length === 0) return;
  await sql`
    update attempt a set state = 'accepted', settled_at = ${now}, far_id = v.far_id, code = null, why = null
    from unnest(${accepted.map((one) => one.shop_id)}::text[], ${accepted.map((one) => one.attempt_id)}::text[],
      ${accepted.map((one) => one.farId)}::text[]) as v (shop_id, attempt_id, far_id)
    where ${isOneOf('a', accepted)} and a.shop_id = v.shop_id and a.attempt_id = v.attempt_id
      and a.state not in ('delivered', 'failed')`.execute(db);
}

/** Ids are unique over all shops; naming the shops too lets the primary key find them. */
const isOneOf = (table: string, attempts: readonly Pick<ClaimedAttempt, 'shop_id' | 'attempt_id'>[]) =>
  sql<boolean>`${sql.ref(`${table}.shop_id`)} = any(${[...new Set(attempts.map((one) => one.shop_id))]}::text[])
    and ${sql.ref(`${table}.attempt_id`)} = any(${attempts.map((one) => one.attempt_id)}::text[])`;

export type AttemptResult = {
  readonly state: Extract<
    AttemptState,
    'accepted' | 'refused' | 'unsure' | 'delivered' | 'failed' | 'withheld'
  >;
  readonly farId?: string;
  readonly code?: string;
  readonly why?: string;
};

export async function settleAttempt(
  db: Db | Trx,
  shopId: string,
  attemptId: string,
  result: AttemptResult,
  now: Date,
): Promise<void> {
  await db
    .updateTable('attempt')
    .set({
      state: result.state,
      settled_at: now,
      ...(result.farId === undefined ? {} : { far_id: result.farId }),
      code: result.code ?? null,
      why: result.why ?? null,
    })
    .where('shop_id', '=', shopId)
    .where('attempt_id', '=', attemptId)
    .where('state', 'not in', ['delivered', 'failed'])
    .execute();
}

/** Puts a claimed attempt back to a later instant: outside civil hours at the moment of sending. */
export async function putOff(db: Db | Trx, shopId: string, attemptId: string, until: Date): Promise<void> {
  await db
    .updateTable('attempt')
    .set({ state: 'planned', send_at: until, lease_until: null })
    .where('shop_id', '=', shopId)
    .where('attempt_id', '=', attemptId)
    .where('state', '=', 'claimed')
    .execute();
}

/** Attempts given to a carrier whose answer was never recorded: the process died in between, or the line did. */
export async function unsettledAttempts(db: Db, now: Date, limit: number) {
  return db
    .selectFrom('attempt as a')
    .innerJoin('message as m', (join) =>
      join.onRef('m.shop_id', '=', 'a.shop_id').onRef('m.message_id', '=', 'a.message_id'),
    )
    .select([
      'a.shop_id',
      'a.attempt_id',
      'a.message_id',
      'a.number',
      'a.state',
      'a.handed_over_at',
      'm.channel',
      'm.must_arrive',
    ])
    .where('a.state', 'in', ['handed over', 'unsure'])
    .where('a.lease_until', '<', now)
    .orderBy('a.lease_until')
    .limit(limit)
    .execute();
}

export async function leaveUnsure(
  db: Db | Trx,
  shopId: string,
  attemptId: string,
  why: string,
  askAgainAt: Date | null,
) {
  await db
    .updateTable('attempt')
    .set({ state: 'unsure', why, lease_until: askAgainAt })
    .where('shop_id', '=', shopId)
    .where('attempt_id', '=', attemptId)
    .where('state', 'in', ['handed over', 'unsure'])
    .execute();
}

export async function automaticAnswersSince(
  db: Db | Trx,
  shopId: string,
  wearerId: string,
  since: Date,
): Promise<number> {
  const row = await db
    .selectFrom('message')
    .select(sql<number>`count(*)`.as('n'))
    .where('shop_id', '=', shopId)
    .where('wearer_id', '=', wearerId)
    .where('automatic', '=', true)
    .where('unasked', '=', false)
    .where('any_hour', '=', false)
    .where('created_at', '>=', since)
    .executeTakeFirstOrThrow();
  return row.n;
}

/** The attempt that a carrier's report is about: by the attempt's id that rode along, else by the carrier's own id. */
export async function attemptToSettle(
  db: Db,
  shopId: string,
  of: { readonly attemptId: string | null; readonly farId: string },
) {
  const query = db
    .selectFrom('attempt as a')
    .innerJoin('message as m', (join) =>
      join.onRef('m.shop_id', '=', 'a.shop_id').onRef('m.message_id', '=', 'a.message_id'),
    )
    .innerJoin('contact_point as c', (join) =>
      join.onRef('c.shop_id', '=', 'm.shop_id').onRef('c.contact_id', '=', 'm.contact_id'),
    )
    .select([
      'a.shop_id',
      'a.attempt_id',
      'a.message_id',
      'a.number',
      'a.state',
      'a.handed_over_at',
      'm.channel',
      'm.body',
      'c.address',
    ])
    .where('a.shop_id', '=', shopId);
  return of.attemptId === null
    ? query.where('a.far_id', '=', of.farId).executeTakeFirst()
    : query.where('a.attempt_id', '=', of.attemptId).executeTakeFirst();
}

/** What was handed to a carrier, for asking it later what became of it. */
export const handedOverIn = (db: Db, shopId: string) => async (attemptId: string) => {
  const attempt = await attemptToSettle(db, shopId, { attemptId, farId: '' });
  if (!attempt?.handed_over_at) return undefined;
  return { to: attempt.address, text: attempt.body, at: attempt.handed_over_at };
};

export async function newestAttemptOf(db: Db, shopId: string, messageId: string) {
  const row = await db
    .selectFrom('attempt')
    .select('attempt_id')
    .where('shop_id', '=', shopId)
    .where('message_id', '=', messageId)
    .orderBy('number', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row && attemptToSettle(db, shopId, { attemptId: row.attempt_id, farId: '' });
}

/** Texts that a carrier took and of which it has not said what became, oldest first. */
export async function acceptedTexts(db: Db, shopId: string, since: Date, limit: number) {
  const rows = await db
    .selectFrom('attempt as a')
    .innerJoin('message as m', (join) =>
      join.onRef('m.shop_id', '=', 'a.shop_id').onRef('m.message_id', '=', 'a.message_id'),
    )
    .select(['a.attempt_id', 'a.far_id'])
    .where('a.shop_id', '=', shopId)
    .where('a.state', '=', 'accepted')
    .where('a.far_id', 'is not', null)
    .where('a.handed_over_at', '>=', since)
    .where('m.channel', '=', 'text')
    .orderBy('a.handed_over_at')
    .limit(limit)
    .execute();
  return rows.map((row) => ({ ...row, far_id: row.far_id! }));
}

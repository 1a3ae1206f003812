import { type Selectable, sql } from 'kysely';
import { newId } from '../ids.ts';
import type { Db, Trx } from './database.ts';
import type { ChannelKind, Tables } from './tables.ts';

export type Alarm = Selectable<Tables['alarm']>;
export type AlarmCall = Selectable<Tables['alarm_call']>;

export type OnCall = {
  person_id: string;
  name: string;
  email: string | null;
  phone_e164: string | null;
  /** Null: at any hour. */
  hours: { readonly days: readonly number[]; readonly fromHour: number; readonly toHour: number } | null;
};

/** The people on call, in the order in which they are told. */
export async function peopleOnCall(db: Db | Trx, shopId: string): Promise<OnCall[]> {
  const rows = await db
    .selectFrom('person as p')
    .leftJoin('on_call_hours as h', (join) =>
      join.onRef('h.shop_id', '=', 'p.shop_id').onRef('h.person_id', '=', 'p.person_id'),
    )
    .select(['p.person_id', 'p.name', 'p.email', 'p.phone_e164', 'h.days', 'h.from_hour', 'h.to_hour'])
    .where('p.shop_id', '=', shopId)
    .where('p.active', '=', true)
    .where('p.on_call_order', 'is not', null)
    .orderBy('p.on_call_order')
    .orderBy('p.created_at')
    .execute();
  return rows.map(({ days, from_hour, to_hour, ...person }) => ({
    ...person,
    hours: days === null ? null : { days, fromHour: from_hour ?? 0, toHour: to_hour ?? 24 },
  }));
}

export type NewAlarm = {
  readonly kind: Alarm['kind'];
  readonly subjectId: string;
  readonly caseId: string | null;
  readonly wearerId: string | null;
  readonly initial: string;
  readonly waiting?: number;
};

/**
 * Puts an alarm on record, once for its subject; called again for the same subject it learns the case. A case that has an
 * alarm going gets no second one: whoever takes it on reads all of the case.
 */
export async function putAlarm(trx: Trx, shopId: string, alarm: NewAlarm, now: Date): Promise<void> {
  if (alarm.caseId !== null) {
    const going = await trx
      .selectFrom('alarm')
      .selectAll()
      .where('shop_id', '=', shopId)
      .where('case_id', '=', alarm.caseId)
      .where('ended_at', 'is', null)
      .limit(1)
      .executeTakeFirst();
    const over = going && (await whyOver(trx, going));
    if (going && over === undefined) return;
    if (going) await endAlarm(trx, shopId, going.alarm_id, over!, now);
  }
  const { caseId, wearerId, initial } = alarm;
  await trx
    .insertInto('alarm')
    .values({
      shop_id: shopId,
      alarm_id: newId(now),
      kind: alarm.kind,
      subject_id: alarm.subjectId,
      case_id: caseId,
      wearer_id: wearerId,
      initial,
      waiting: alarm.waiting ?? 1,
      raised_at: now,
      next_at: now,
      ended_at: null,
      ended_why: null,
    })
    .onConflict((clash) =>
      clash
        .columns(['shop_id', 'kind', 'subject_id'])
        .doUpdateSet({ case_id: caseId, wearer_id: wearerId, initial }),
    )
    .execute();
}

/** What an alarm is about: the message that it was raised for, or the case that has one going. */
export type AlarmSubject = { readonly subjectId: string; readonly caseId: string | null };

/** The alarms that are due, all or of one subject. */
export async function alarmsDue(
  db: Db,
  now: Date,
  limit: number,
  about: AlarmSubject | undefined,
): Promise<Alarm[]> {
  let due = db.selectFrom('alarm').selectAll().where('ended_at', 'is', null).where('next_at', '<=', now);
  if (about) {
    const { subjectId, caseId } = about;
    due = due.where((one) => one.or([one('subject_id', '=', subjectId), one('case_id', '=', caseId)]));
  }
  return due.orderBy('next_at').limit(limit).execute();
}

/** Takes the next round of an alarm; false when another process took it first. */
export async function takeRound(trx: Trx, alarm: Alarm, nextAt: Date): Promise<boolean> {
  const done = await trx
    .updateTable('alarm')
    .set({ rounds: alarm.rounds + 1, next_at: nextAt })
    .where('shop_id', '=', alarm.shop_id)
    .where('alarm_id', '=', alarm.alarm_id)
    .where('rounds', '=', alarm.rounds)
    .where('ended_at', 'is', null)
    .executeTakeFirst();
  return done.numUpdatedRows === 1n;
}

export async function tellSooner(db: Db, shopId: string, alarmId: string, at: Date): Promise<void> {
  await db
    .updateTable('alarm')
    .set({ next_at: at })
    .where('shop_id', '=', shopId)
    .where('alarm_id', '=', alarmId)
    .where('ended_at', 'is', null)
    .where('next_at', '>', at)
    .execute();
}

export async function endAlarm(
  db: Db | Trx,
  shopId: string,
  alarmId: string,
  why: string,
  now: Date,
): Promise<void> {
  await db
    .updateTable('alarm')
    .set({ ended_at: now, ended_why: why })
    .where('shop_id', '=', shopId)
    .where('alarm_id', '=', alarmId)
    .where('ended_at', 'is', null)
    .execute();
}

/** Who pressed "I have it" on the alarm's case since it was raised, or how else it came to its end. */
export async function whyOver(db: Db | Trx, alarm: Alarm): Promise<string | undefined> {
  if (alarm.kind === 'test') return undefined;
  if (alarm.case_id === null) {
    const row = await db
      .selectFrom('inbound_standing')
      .select('state')
      .where('shop_id', '=', alarm.shop_id)
      .where('inbound_id', '=', alarm.subject_id)
      .executeTakeFirst();
    return row && row.state !== 'tray' ? 'looked at in the tray' : undefined;
  }
  const pressed = await db
    .selectFrom('case_event')
    .select('by_name')
    .where('shop_id', '=', alarm.shop_id)
    .where('case_id', '=', alarm.case_id)
    .where('kind', '=', 'I have it')
    .where('at', '>=', alarm.raised_at)
    .orderBy('at')
    .limit(1)
    .executeTakeFirst();
  if (pressed) return `${pressed.by_name} has it`;
  const file = await db
    .selectFrom('case_file')
    .select('closed_at')
    .where('shop_id', '=', alarm.shop_id)
    .where('case_id', '=', alarm.case_id)
    .executeTakeFirst();
  return file?.closed_at ? 'the case is closed' : undefined;
}

export async function roundsOf(db: Db | Trx, alarm: Alarm): Promise<AlarmCall[]> {
  return db
    .selectFrom('alarm_call')
    .selectAll()
    .where('shop_id', '=', alarm.shop_id)
    .where('alarm_id', '=', alarm.alarm_id)
    .orderBy('round')
    .execute();
}

export type NewCall = Pick<
  AlarmCall,
  'round' | 'person_id' | 'person_name' | 'channel' | 'address' | 'subject' | 'body' | 'html'
>;

export async function putCalls(trx: Trx, alarm: Alarm, calls: readonly NewCall[], now: Date): Promise<void> {
  await trx
    .insertInto('alarm_call')
    .values(
      calls.map((call) => ({
        ...call,
        shop_id: alarm.shop_id,
        alarm_id: alarm.alarm_id,
        call_id: newId(now),
        state: 'planned' as const,
        lease_until: null,
        far_id: null,
        why: null,
        at: now,
      })),
    )
    .execute();
}

/** A call that was taken up and not settled within this time is taken up again: it goes at least once. */
const CALL_LEASE_MS = 30_000;

export async function takeCalls(db: Db, now: Date, limit: number): Promise<AlarmCall[]> {
  return db
    .updateTable('alarm_call')
    .set({ lease_until: new Date(now.getTime() + CALL_LEASE_MS) })
    .from((from) =>
      from
        .selectFrom('alarm_call')
        .select(['shop_id', 'call_id'])
        .where('state', '=', 'planned')
        .where((or) => or.or([or('lease_until', 'is', null), or('lease_until', '<', now)]))
        .orderBy('at')
        .limit(limit)
        .forUpdate()
        .skipLocked()
        .as('due'),
    )
    .whereRef('alarm_call.shop_id', '=', 'due.shop_id')
    .whereRef('alarm_call.call_id', '=', 'due.call_id')
    .where('alarm_call.state', '=', 'planned')
    .returningAll('alarm_call')
    .execute();
}

export async function settleCall(
  db: Db,
  call: AlarmCall,
  result: { readonly state: AlarmCall['state']; readonly farId?: string; readonly why?: string },
): Promise<void> {
  await db
    .updateTable('alarm_call')
    .set({ state: result.state, far_id: result.farId ?? null, why: result.why ?? null })
    .where('shop_id', '=', call.shop_id)
    .where('call_id', '=', call.call_id)
    .execute();
}

/** A call that a carrier took and could not bring: the alarm's next round comes at once. */
export async function callFailed(
  db: Db,
  shopId: string,
  callId: string,
  why: string,
  now: Date,
): Promise<void> {
  const call = await db
    .updateTable('alarm_call')
    .set({ state: 'refused', why })
    .where('shop_id', '=', shopId)
    .where('call_id', '=', callId)
    .where('state', '=', 'accepted')
    .returning('alarm_id')
    .executeTakeFirst();
  if (call) await tellSooner(db, shopId, call.alarm_id, now);
}

export type TrayWaiting = { shop_id: string; inbound_id: string; received_at: Date };

/** Messages in the tray since before `before` of which nobody was told yet, oldest first. */
export async function trayUntold(db: Db, before: Date, limit: number): Promise<TrayWaiting[]> {
  const found = await sql<TrayWaiting>`
    select s.shop_id, s.inbound_id, s.received_at from inbound_standing s
    where s.state = 'tray' and s.received_at < ${before}
      and not exists (select from alarm a where a.shop_id = s.shop_id and a.subject_id = s.inbound_id)
    order by s.received_at limit ${limit}`.execute(db);
  return found.rows;
}

export type Told = Pick<AlarmCall, 'round' | 'person_name' | 'channel' | 'state' | 'at'> & {
  case_id: string;
};

/** Who was told about which case, oldest first: for the bench and the case. */
export async function toldAbout(db: Db, shopId: string, caseIds: readonly string[]): Promise<Told[]> {
  if (caseIds.length === 0) return [];
  const rows = await db
    .selectFrom('alarm as a')
    .innerJoin('alarm_call as c', (join) =>
      join.onRef('c.shop_id', '=', 'a.shop_id').onRef('c.alarm_id', '=', 'a.alarm_id'),
    )
    .select(['a.case_id', 'c.round', 'c.person_name', 'c.channel', 'c.state', 'c.at'])
    .where('a.shop_id', '=', shopId)
    .where('a.case_id', 'in', [...caseIds])
    .orderBy('c.at')
    .orderBy('c.channel', 'desc')
    .execute();
  return rows.map((row) => ({ ...row, case_id: row.case_id! }));
}

/** How the caution to the wearer who wrote a message stands, newest attempt last. */
export async function cautionStates(
  db: Db | Trx,
  shopId: string,
  wearerId: string,
  since: Date,
): Promise<string[]> {
  const rows = await db
    .selectFrom('message as m')
    .innerJoin('attempt as t', (join) =>
      join.onRef('t.shop_id', '=', 'm.shop_id').onRef('t.message_id', '=', 'm.message_id'),
    )
    .select('t.state')
    .where('m.shop_id', '=', shopId)
    .where('m.wearer_id', '=', wearerId)
    .where('m.purpose', '=', 'caution')
    .where('m.created_at', '>=', since)
    .orderBy('t.number')
    .execute();
  return rows.map((row) => row.state);
}

/** One address by which a person on call can be told. */
export type CallWay = { readonly channel: ChannelKind; readonly address: string };

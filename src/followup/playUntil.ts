import { sql } from 'kysely';
import type { Db } from '../store/database.ts';
import { QUIET_AFTER_INBOUND_MS } from './decideDue.ts';

/** The next instant after `after` at which the follow-up has something to do, if there is one. */
export async function nextInstant(db: Db, after: Date): Promise<Date | undefined> {
  const found = await sql<{ at: Date | null }>`
    select min(at) as at from (
      select min(c.due_at) as at from check_in c join plan p using (shop_id, pair_id)
        where c.state = 'planned' and c.due_at > ${after}
          and (p.state = 'running' or (p.state = 'paused' and c.kind = 'have they come'))
      union all select min(send_at) from attempt where state = 'planned' and send_at > ${after}
      union all select min(received_at) + ${QUIET_AFTER_INBOUND_MS} * interval '1 millisecond' from inbound_standing
        where answer_state = 'waiting' and received_at + ${QUIET_AFTER_INBOUND_MS} * interval '1 millisecond' > ${after}
    ) as instants`.execute(db);
  return found.rows[0]?.at ?? undefined;
}

/**
 * The next round of an alarm in its first hour. Later rounds of one that nobody answers come with whatever is due next, so
 * that weeks can be played in seconds; on a running clock every minute has its tick.
 */
async function nextAlarm(db: Db, after: Date): Promise<Date | undefined> {
  const found = await sql<{ at: Date | null }>`
    select min(next_at) as at from alarm
    where ended_at is null and next_at > ${after} and next_at <= raised_at + interval '1 hour'`.execute(db);
  return found.rows[0]?.at ?? undefined;
}

/** The next instant after `after` to which a clock that is played may jump: nothing is due in between. */
export async function nextDue(db: Db, after: Date): Promise<Date | undefined> {
  const due = [await nextInstant(db, after), await nextAlarm(db, after)].filter((one) => one !== undefined);
  return due.sort((one, other) => one.getTime() - other.getTime())[0];
}

/**
 * Plays time forward from `from` to `target`, stopping at every instant at which something is due, so that moving a clock by a week gives
 * what a week would have given. `at(instant)` sets the clock and does one tick.
 */
export async function playUntil(
  db: Db,
  from: Date,
  target: Date,
  at: (instant: Date) => Promise<void>,
): Promise<number> {
  let now = from;
  let steps = 1;
  await at(from);
  for (;;) {
    const next = await nextDue(db, now);
    if (next === undefined || next > target) break;
    now = next;
    await at(now);
    steps += 1;
  }
  await at(target);
  return steps + 1;
}

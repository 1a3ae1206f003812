import { newId } from '../ids.ts';
import { type AlarmCall, putAlarm } from '../store/alarms.ts';
import { soundAlarms } from './alarm.ts';
import { reachablePeople } from './alarmPeople.ts';
import type { Shell } from './shell.ts';

export type AlarmTested = Pick<AlarmCall, 'person_name' | 'channel' | 'address' | 'state' | 'why'>;

/** Sends everyone on call an alarm that is marked as a test, and tells how each went. Empty: nobody can be told. */
export async function testAlarm(shell: Shell, shopId: string): Promise<AlarmTested[]> {
  if ((await reachablePeople(shell.db, shell.carrier, shopId)).length === 0) return [];
  const now = shell.clock.now();
  const subjectId = newId(now);
  const alarm = { kind: 'test', subjectId, caseId: null, wearerId: null, initial: 'X' } as const;
  await shell.db.transaction().execute((trx) => putAlarm(trx, shopId, alarm, now));
  await soundAlarms(shell);
  return shell.db
    .selectFrom('alarm_call as c')
    .innerJoin('alarm as a', (join) =>
      join.onRef('a.shop_id', '=', 'c.shop_id').onRef('a.alarm_id', '=', 'c.alarm_id'),
    )
    .select(['c.person_name', 'c.channel', 'c.address', 'c.state', 'c.why'])
    .where('a.shop_id', '=', shopId)
    .where('a.subject_id', '=', subjectId)
    .orderBy('c.person_name')
    .orderBy('c.channel', 'desc')
    .execute();
}

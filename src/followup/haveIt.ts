import { type Alarm, endAlarm, whyOver } from '../store/alarms.ts';
import { callOfLink } from '../store/links.ts';
import { actOnCase } from './actOnCase.ts';
import { keptLink } from './fromLink.ts';
import type { Shell } from './shell.ts';

export type HaveLink = {
  readonly state: 'good' | 'expired';
  readonly person: string;
  readonly alarm: Alarm;
  /** Who has it, or how else the alarm came to its end; null while it goes on. */
  readonly over: string | null;
};

/** Looks up the link that stood in an alarm. Changes nothing; undefined when it is none of ours. */
export async function openHaveLink(
  shell: Shell,
  shopId: string,
  token: string,
): Promise<HaveLink | undefined> {
  const found = await keptLink(shell, shopId, token);
  if (found?.purpose !== 'have') return undefined;
  const call = await callOfLink(shell.db, shopId, found.link.subject_id);
  if (!call) return undefined;
  const alarm = await shell.db
    .selectFrom('alarm')
    .selectAll()
    .where('shop_id', '=', shopId)
    .where('alarm_id', '=', call.alarm_id)
    .executeTakeFirst();
  if (!alarm) return undefined;
  const over = (await whyOver(shell.db, alarm)) ?? alarm.ended_why;
  const state = found.link.expires_at <= shell.clock.now() ? 'expired' : 'good';
  return { state, person: call.person_name, alarm, over };
}

/** "I have it", pressed behind the link of an alarm: on the case it stands as if pressed there; the alarm ends. */
export async function haveIt(shell: Shell, shopId: string, link: HaveLink): Promise<string> {
  if (link.over !== null) return link.over;
  const { case_id, alarm_id } = link.alarm;
  if (case_id !== null) await actOnCase(shell, shopId, case_id, { kind: 'have it' }, link.person);
  const over = `${link.person} has it`;
  await endAlarm(shell.db, shopId, alarm_id, over, shell.clock.now());
  return over;
}

import { soundAlarms } from '../src/followup/alarm.ts';
import { watchTray } from '../src/followup/alarmTray.ts';
import type { Job } from './index.ts';

/** Each minute: people on call are told of danger until someone has it, and once of a tray that nobody looks at. */
export const raiseAlarmJob: Job = {
  name: 'raise-alarm',
  everyMinutes: 1,
  async run(shell) {
    await watchTray(shell);
    await soundAlarms(shell);
  },
};

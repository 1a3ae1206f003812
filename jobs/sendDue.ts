import { deliver } from '../src/followup/deliver.ts';
import { sendDue } from '../src/followup/sendDue.ts';
import type { Job } from './index.ts';

/** Each minute: check-ins that are due become messages, and messages that are due go to their carrier. */
export const sendDueJob: Job = {
  name: 'send-due',
  everyMinutes: 1,
  async run(shell, most) {
    const written = await sendDue(shell, most);
    const sent = await deliver(shell, most);
    return Number.isFinite(most) && (written >= most || sent >= most);
  },
};

import { deliver } from '../src/followup/deliver.ts';
import { sendDue } from '../src/followup/sendDue.ts';
import type { Job } from './index.ts';

/** Each minute: check-ins that are due become messages, and messages that are due go to their carrier. */
export const sendDueJob: Job = {
  name: 'send-due',
  everyMinutes: 1,
  async run(shell) {
    await sendDue(shell);
    await deliver(shell);
  },
};

import { readMailboxes } from '../src/followup/readMailbox.ts';
import type { Job } from './index.ts';

/** Each minute: what is new in the mailbox and concerns us. */
export const readMailJob: Job = {
  name: 'read-mail',
  everyMinutes: 1,
  async run(shell) {
    await readMailboxes(shell);
  },
};

import { sendMorningLists } from '../src/followup/morningLists.ts';
import type { Job } from './index.ts';

/** Each minute from half past seven of a shop's morning: the list of the day by email to each person, once. */
export const morningListJob: Job = {
  name: 'morning-list',
  everyMinutes: 1,
  async run(shell) {
    await sendMorningLists(shell);
  },
};

import { settleUnsure } from '../src/followup/deliver.ts';
import type { Job } from './index.ts';

/** Each minute: attempts whose answer from the carrier was never recorded are asked about, then settled or left unsure. */
export const settleUnsureJob: Job = {
  name: 'settle-unsure',
  everyMinutes: 1,
  async run(shell) {
    await settleUnsure(shell);
  },
};

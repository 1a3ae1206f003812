import { forget } from '../src/followup/forget.ts';
import type { Job } from './index.ts';

/** Each minute, a little at a time: pictures of closed cases, links that ran out, and what came along with old messages go. */
export const forgetJob: Job = {
  name: 'forget',
  everyMinutes: 1,
  async run(shell) {
    await forget(shell);
  },
};

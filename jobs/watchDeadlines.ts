import { watchDeadlines } from '../src/followup/watchDeadlines.ts';
import type { Job } from './index.ts';

/** Each minute, since a case may open on the last day: deadlines of open cases that end within three days are said once. */
export const watchDeadlinesJob: Job = {
  name: 'watch-deadlines',
  everyMinutes: 1,
  async run(shell) {
    await watchDeadlines(shell);
  },
};

import { answerWearers } from '../src/followup/answerWearers.ts';
import { deliver } from '../src/followup/deliver.ts';
import type { Job } from './index.ts';

/** Each minute: wearers who wrote and have been quiet for two minutes get one answer for all of it. */
export const answerWearersJob: Job = {
  name: 'answer-wearers',
  everyMinutes: 1,
  async run(shell) {
    if ((await answerWearers(shell)) > 0) await deliver(shell);
  },
};

import { foretell, someLeftToForetell } from '../src/followup/foretell.ts';
import type { Job } from './index.ts';

/** Each minute: pairs that have just reached their wearer are looked at once; who is likely to have trouble is rung early. */
export const foretellJob: Job = {
  name: 'foretell',
  everyMinutes: 1,
  async run(shell) {
    await foretell(shell);
    return someLeftToForetell(shell);
  },
};

import { keepBackup } from '../src/followup/keepBackup.ts';
import type { Job } from './index.ts';

/** Each hour, on the embedded database: a copy of all records, kept for 48 hours. */
export const keepBackupJob: Job = {
  name: 'keep-backup',
  everyMinutes: 60,
  async run(shell) {
    await keepBackup(shell);
  },
};

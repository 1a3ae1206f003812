import type { Shell } from '../src/followup/shell.ts';
import { answerWearersJob } from './answerWearers.ts';
import { askCarrierJob } from './askCarrier.ts';
import { foretellJob } from './foretell.ts';
import { forgetJob } from './forget.ts';
import { keepBackupJob } from './keepBackup.ts';
import { keepReviewJob } from './keepReview.ts';
import { morningListJob } from './morningList.ts';
import { pickUpUnsortedJob } from './pickUpUnsorted.ts';
import { raiseAlarmJob } from './raiseAlarm.ts';
import { readMailJob } from './readMail.ts';
import { sendDueJob } from './sendDue.ts';
import { settleUnsureJob } from './settleUnsure.ts';
import { watchDeadlinesJob } from './watchDeadlines.ts';

/** A scheduled job: when it runs and which use case it calls. What is due is a question to the store. */
export type Job = {
  readonly name: string;
  readonly everyMinutes: number;
  /** At most `most` of what can be cut short; true: some of it was left for the next turn. */
  run(shell: Shell, most: number): Promise<boolean | void>;
};

/** In the order in which one tick runs them: danger waits for nobody; what came in is understood before anything new goes out. */
export const jobs: readonly Job[] = [
  raiseAlarmJob,
  askCarrierJob,
  readMailJob,
  pickUpUnsortedJob,
  answerWearersJob,
  sendDueJob,
  settleUnsureJob,
  watchDeadlinesJob,
  foretellJob,
  morningListJob,
  keepReviewJob,
  keepBackupJob,
  forgetJob,
];

/**
 * One tick of every job for one shop. A job that fails is told of and does not keep the next from running. True: something
 * due was left, since a turn takes `most` of it, so that a busy shop does not keep the others waiting.
 */
export async function tick(shell: Shell, most = Number.POSITIVE_INFINITY): Promise<boolean> {
  let left = false;
  for (const job of jobs) {
    try {
      if (await job.run(shell, most)) left = true;
    } catch (error) {
      shell.log.error(
        { job: job.name, error: error instanceof Error ? (error.stack ?? error.message) : String(error) },
        'a job failed',
      );
    }
  }
  return left;
}

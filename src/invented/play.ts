import { soundAlarms } from '../followup/alarm.ts';
import { watchTray } from '../followup/alarmTray.ts';
import { answerWearers } from '../followup/answerWearers.ts';
import { deliver } from '../followup/deliver.ts';
import { foretell } from '../followup/foretell.ts';
import { localDay } from '../followup/planSlots.ts';
import { nextDue } from '../followup/playUntil.ts';
import { sendDue } from '../followup/sendDue.ts';
import type { Shell } from '../followup/shell.ts';
import { watchDeadlines } from '../followup/watchDeadlines.ts';

/**
 * Plays the shop's clock on to an instant, jumping from one due thing to the next: nothing is asked of the database for the
 * minutes in between. What is due goes through the use cases of the minute's tick; deadlines, and what new pairs foretell, are looked at once a day.
 */
export async function playTo(shell: Shell, to: Date, setClock: (instant: Date) => void): Promise<void> {
  for (;;) {
    const due = await nextDue(shell.db, shell.clock.now());
    const at = due === undefined || due > to ? to : due;
    const before = localDay(shell.clock.now(), 'UTC');
    setClock(at);
    if (localDay(at, 'UTC') !== before) {
      await watchTray(shell);
      await watchDeadlines(shell);
      await foretell(shell);
    }
    if (at === to && due?.getTime() !== to.getTime()) return;
    await soundAlarms(shell);
    await answerWearers(shell);
    await sendDue(shell);
    await deliver(shell);
  }
}

import { takeMissing } from './askCarrier.ts';
import { readMailboxes } from './readMailbox.ts';
import type { Shell } from './shell.ts';

const DAYS = 7;
/** A small shop has some dozens of replies in that time; past this number something else is wrong. */
const MOST_TEXTS = 5000;

/**
 * At the start the carrier and the mailbox are asked for all that came in over the last seven days: what a power cut, a restore
 * from an older copy or an hour offline has lost comes back. What is here already is known by its id.
 */
export async function askAgain(shell: Shell): Promise<void> {
  const since = new Date(shell.clock.now().getTime() - DAYS * 86_400_000);
  const shops = await shell.db.selectFrom('shop').select('shop_id').execute();
  for (const { shop_id: shopId } of shops) {
    const line = shell.textLine?.(shopId);
    if (!line) continue;
    try {
      const came = await takeMissing(shell, shopId, await line.channel.newTexts(since, MOST_TEXTS));
      if (came > 0) shell.log.warn({ shop: shopId, texts: came }, 'texts that were missing came back');
    } catch (error) {
      shell.log.warn({ shop: shopId, error: String(error) }, 'the carrier could not be asked at the start');
    }
  }
  await readMailboxes(shell, { days: DAYS });
}

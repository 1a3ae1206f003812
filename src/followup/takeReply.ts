import { storeRaw } from '../store/inbound.ts';
import type { RawInbound } from '../store/journal.ts';
import type { Shell } from './shell.ts';
import { sortInbound } from './sortInbound.ts';

/**
 * Takes one message that came in. It is in the journal and in the database before anything is made of it; only then may
 * the carrier or mailbox be told that it was received. Sorting follows at once, and if it fails or the process dies, the
 * next tick picks it up.
 */
export async function takeReply(
  shell: Shell,
  message: RawInbound,
): Promise<{ isNew: boolean; inboundId: string | null }> {
  shell.journal.append(message);
  const [inboundId] = await storeRaw(shell.db, [message]);
  if (inboundId === undefined) return { isNew: false, inboundId: null };
  try {
    await sortInbound(shell, message.shopId, inboundId);
  } catch (error) {
    shell.log.error(
      { shop: message.shopId, inbound: inboundId, error: String(error) },
      'a reply is stored but not sorted yet',
    );
  }
  return { isNew: true, inboundId };
}

/** Puts back into the database what the journal has and the database has lost. */
export async function replayJournal(shell: Shell): Promise<number> {
  let put = 0;
  let batch: RawInbound[] = [];
  const shops = new Set(
    (await shell.db.selectFrom('shop').select('shop_id').execute()).map((row) => row.shop_id),
  );
  const flush = async () => {
    put += (await storeRaw(shell.db, batch)).length;
    batch = [];
  };
  for (const message of shell.journal.readAll()) {
    if (!shops.has(message.shopId)) continue;
    batch.push(message);
    if (batch.length >= 200) await flush();
  }
  await flush();
  return put;
}

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
  const inboundId = await keepReply(shell, message);
  if (inboundId === undefined) return { isNew: false, inboundId: null };
  await sortKept(shell, message.shopId, inboundId);
  return { isNew: true, inboundId };
}

/** Puts a message in the journal and the database and nothing more; undefined when it is there already. */
export async function keepReply(shell: Shell, message: RawInbound): Promise<string | undefined> {
  shell.journal.append(message);
  const [inboundId] = await storeRaw(shell.db, [message]);
  return inboundId;
}

/** Sorts a kept message; what fails is told and picked up by the next tick. */
export async function sortKept(shell: Shell, shopId: string, inboundId: string): Promise<void> {
  try {
    await sortInbound(shell, shopId, inboundId);
  } catch (error) {
    shell.log.error(
      { shop: shopId, inbound: inboundId, error: String(error) },
      'a reply is stored but not sorted yet',
    );
  }
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

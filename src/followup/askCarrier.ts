import type { InboundText } from '../channels/webhook.ts';
import { farIdsThere, newestText } from '../store/inbound.ts';
import { acceptedTexts } from '../store/messages.ts';
import type { Shell } from './shell.ts';
import { takeText } from './takeText.ts';
import { takeTextStatus } from './textStatus.ts';

const DAY_MS = 86_400_000;
/** Clocks differ and lists lag: so far back it is asked again; what is there already is known by its id. */
const OVERLAP_MS = 15 * 60_000;
const STATES_A_TICK = 40;

/** Takes of these texts the ones that are not on record; returns how many. */
export async function takeMissing(
  shell: Shell,
  shopId: string,
  texts: readonly InboundText[],
): Promise<number> {
  const there = await farIdsThere(
    shell.db,
    shopId,
    'text',
    texts.map((text) => text.farId),
  );
  const missing = texts.filter((text) => !there.has(text.farId));
  for (const text of missing) await (await takeText(shell, shopId, text)).sorted;
  return missing.length;
}

/** For shops that the carrier cannot call: new texts and the states of ours are asked for. */
export async function askCarrier(shell: Shell): Promise<void> {
  const shops = await shell.db.selectFrom('shop').select('shop_id').execute();
  for (const { shop_id: shopId } of shops) {
    const line = shell.textLine?.(shopId);
    if (!line || line.publicBase !== undefined) continue;
    const now = shell.clock.now();
    const newest = await newestText(shell.db, shopId);
    const since = new Date((newest?.getTime() ?? now.getTime() - DAY_MS) - OVERLAP_MS);
    await takeMissing(shell, shopId, await line.channel.newTexts(since));
    for (const one of await acceptedTexts(
      shell.db,
      shopId,
      new Date(now.getTime() - DAY_MS),
      STATES_A_TICK,
    )) {
      const found = await line.channel.statusOf(one.far_id);
      if (found)
        await takeTextStatus(shell, shopId, { ...found, farId: one.far_id, attemptId: one.attempt_id });
    }
  }
}

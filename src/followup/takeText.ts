import type { InboundText } from '../channels/webhook.ts';
import type { Shell } from './shell.ts';
import { keepReply, sortKept } from './takeReply.ts';

/**
 * Keeps a text that the carrier hands over and comes back as soon as it is safe: the carrier waits for the answer. It is sorted
 * right after, without being waited for; `sorted` is for those who want to.
 */
export async function takeText(
  shell: Shell,
  shopId: string,
  text: InboundText,
): Promise<{ readonly kept: 'kept' | 'kept before'; readonly sorted: Promise<void> }> {
  const inboundId = await keepReply(shell, {
    shopId,
    channel: 'text',
    farId: text.farId,
    from: text.from,
    to: text.to,
    body: text.body,
    receivedAt: shell.clock.now().toISOString(),
    raw: { optOutType: text.optOutType, media: text.media },
  });
  if (inboundId === undefined) return { kept: 'kept before', sorted: Promise.resolve() };
  return { kept: 'kept', sorted: sortKept(shell, shopId, inboundId) };
}

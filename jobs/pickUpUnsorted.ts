import { deliver } from '../src/followup/deliver.ts';
import { sortInbound } from '../src/followup/sortInbound.ts';
import { unsorted } from '../src/store/inbound.ts';
import type { Job } from './index.ts';

/** Each minute: replies that were stored but not sorted, because the process died or the sorting failed. */
export const pickUpUnsortedJob: Job = {
  name: 'pick-up-unsorted',
  everyMinutes: 1,
  async run(shell) {
    const waiting = await unsorted(shell.db, 200);
    for (const { shop_id, inbound_id } of waiting) {
      try {
        await sortInbound(shell, shop_id, inbound_id);
      } catch (error) {
        shell.log.error(
          { shop: shop_id, inbound: inbound_id, error: String(error) },
          'a reply could not be sorted',
        );
      }
    }
    if (waiting.length > 0) await deliver(shell);
  },
};

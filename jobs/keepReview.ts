import { refreshReview } from '../src/followup/refreshReview.ts';
import { allShops } from '../src/store/shops.ts';
import type { Job } from './index.ts';

/** Pairs summed up in one tick: half a minute's work, so that a large file does not hold the next tick up. */
const MOST = 10_000;

/** Each minute: what the review says of pairs that changed is made ready, so that the page waits for little. */
export const keepReviewJob: Job = {
  name: 'keep-review',
  everyMinutes: 1,
  async run(shell) {
    for (const shop of await allShops(shell.db)) await refreshReview(shell.db, shop.shop_id, MOST);
  },
};

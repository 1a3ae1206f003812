import type { Db } from '../store/database.ts';
import { reviewNames } from '../store/pages/lensDesigns.ts';
import { blockHeads, blockTexts } from '../store/reviewBlocks.ts';
import type { ShopSettings } from '../store/tables.ts';
import { namesById, type ReviewedPairs, reviewedPairs } from './finishedPairs.ts';
import { refreshReview } from './refreshReview.ts';
import type { SummaryBlock } from './summaryBlock.ts';

/** What a page waits for itself; what is more is brought up to date by the job of every minute, and the page says so. */
const MOST_WAITED_FOR = 2000;

export type KeptPairs = {
  readonly pairs: ReviewedPairs;
  /** False while pairs wait to be summed up: after a large file was taken in, or an update of the program. */
  readonly upToDate: boolean;
};

type Kept = {
  readonly blocks: ReadonlyMap<string, SummaryBlock>;
  readonly stamp: string;
  readonly pairs: ReviewedPairs;
};

const keptOf = new WeakMap<Db, Map<string, Kept>>();

/**
 * The pairs of a shop as they are now, from blocks of their summaries, which are brought up to date first. What a process
 * has read it keeps: a block's text never changes under its id, so only blocks that are new are read, and when none is and
 * the day, the settings and the names are the same, the same pairs are handed back.
 */
export async function keptPairs(
  db: Db,
  shopId: string,
  settings: ShopSettings,
  today: number,
): Promise<KeptPairs> {
  const upToDate = await refreshReview(db, shopId, MOST_WAITED_FOR);
  const [heads, names] = await Promise.all([blockHeads(db, shopId), reviewNames(db, shopId)]);
  heads.sort((a, b) => (a.first_pair_id < b.first_pair_id ? -1 : 1));
  const ids = heads.map(({ block_id }) => block_id);
  const shops = keptOf.get(db) ?? new Map<string, Kept>();
  keptOf.set(db, shops);
  const kept = shops.get(shopId);
  const stamp = JSON.stringify([ids, today, settings, names]);
  if (kept?.stamp === stamp) return { pairs: kept.pairs, upToDate };
  const blocks = new Map<string, SummaryBlock>();
  for (const id of ids) {
    const found = kept?.blocks.get(id);
    if (found) blocks.set(id, found);
  }
  const missing = ids.filter((id) => !blocks.has(id));
  for (const { block_id, figures } of await blockTexts(db, shopId, missing))
    blocks.set(block_id, JSON.parse(figures) as SummaryBlock);
  if (ids.some((id) => !blocks.has(id))) {
    // Replaced by another process between the two statements: what is there now is newer.
    return keptPairs(db, shopId, settings, today);
  }
  const inOrder = ids.map((id) => blocks.get(id)!);
  const pairs = reviewedPairs(inOrder, { ...namesById(names), settings, today });
  shops.set(shopId, { blocks, stamp, pairs });
  return { pairs, upToDate };
}

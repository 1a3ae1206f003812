import type { Db, Trx } from '../store/database.ts';
import {
  anyPairMarked,
  type BlockHead,
  blockHeads,
  blockTexts,
  lockBlocks,
  markAll,
  replaceBlocks,
  takeMarks,
} from '../store/reviewBlocks.ts';
import { type PairSummary, pairSummaries, summaryEdition } from './pairSummaries.ts';
import { blocksOf, type SummaryBlock, summariesOf } from './summaryBlock.ts';

/** Pairs brought up to date in one transaction. */
const AT_ONCE = 2000;

/**
 * Brings the blocks that the review reads up to date: pairs that were marked since are summed up anew from the records, some
 * at a time, `most` at the most. Answers whether nothing is left. Blocks made by an older edition of the program are made
 * anew in whole.
 */
export async function refreshReview(
  db: Db,
  shopId: string,
  most = Number.POSITIVE_INFINITY,
): Promise<boolean> {
  if (!(await outOfDate(db, shopId))) return true;
  for (let done = 0; done < most; ) {
    const count = await db.transaction().execute((trx) => refreshSome(trx, shopId));
    if (count === 0) return true;
    done += count;
  }
  return !(await anyPairMarked(db, shopId));
}

async function outOfDate(db: Db, shopId: string): Promise<boolean> {
  const [marked, heads] = await Promise.all([anyPairMarked(db, shopId), blockHeads(db, shopId)]);
  return marked || heads.some(({ edition }) => edition !== summaryEdition());
}

async function refreshSome(trx: Trx, shopId: string): Promise<number> {
  await lockBlocks(trx, shopId);
  const heads = (await blockHeads(trx, shopId)).sort((a, b) => (a.first_pair_id < b.first_pair_id ? -1 : 1));
  const old = heads.filter(({ edition }) => edition !== summaryEdition()).map(({ block_id }) => block_id);
  if (old.length > 0) {
    await replaceBlocks(trx, shopId, old, []);
    await markAll(trx, shopId);
  }
  const current = heads.filter(({ edition }) => edition === summaryEdition());
  const pairIds = await takeMarks(trx, shopId, AT_ONCE);
  if (pairIds.length === 0) return 0;
  const anew = new Map(
    (await pairSummaries(trx, shopId, pairIds)).map((summary) => [summary.pairId, summary]),
  );
  const marked = inBlocks(current, pairIds);
  const touched = [...marked.keys()].flatMap((head) => (head === undefined ? [] : [head.block_id]));
  const texts = new Map(
    (await blockTexts(trx, shopId, touched)).map(({ block_id, figures }) => [block_id, figures]),
  );
  const made = [...marked].flatMap(([head, ids]) => {
    const text = head && texts.get(head.block_id);
    const before = text === undefined ? [] : summariesOf(JSON.parse(text) as SummaryBlock);
    return blocksOf(patched(before, ids, anew));
  });
  await replaceBlocks(
    trx,
    shopId,
    touched,
    made.map((block) => ({
      firstPairId: block.pairId[0]!,
      edition: summaryEdition(),
      figures: JSON.stringify(block),
    })),
  );
  return pairIds.length;
}

/** Which block each pair belongs in: the last that begins at or before it; before the first one, the first. */
function inBlocks(
  heads: readonly BlockHead[],
  pairIds: readonly string[],
): Map<BlockHead | undefined, string[]> {
  const marked = new Map<BlockHead | undefined, string[]>();
  for (const pairId of pairIds) {
    let low = 0;
    let high = heads.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (heads[middle]!.first_pair_id <= pairId) low = middle;
      else high = middle;
    }
    const ids = marked.get(heads[low]) ?? [];
    ids.push(pairId);
    marked.set(heads[low], ids);
  }
  return marked;
}

/** The summaries with those of some pairs new, or gone with the pair. */
function patched(
  before: readonly PairSummary[],
  pairIds: readonly string[],
  anew: ReadonlyMap<string, PairSummary>,
): PairSummary[] {
  const marked = new Set(pairIds);
  return [
    ...before.filter(({ pairId }) => !marked.has(pairId)),
    ...pairIds.flatMap((pairId) => anew.get(pairId) ?? []),
  ];
}

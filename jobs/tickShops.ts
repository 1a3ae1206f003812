import { nextByTheClock } from '../src/followup/byTheClock.ts';
import type { Shell } from '../src/followup/shell.ts';
import type { Db } from '../src/store/database.ts';
import { shopsToWorkFor } from '../src/store/shopDoors.ts';
import { findShop, keepClockAt } from '../src/store/shops.ts';
import { tick } from './index.ts';
import { inTurns } from './inTurns.ts';

/** Messages of one shop in one turn. */
const A_TURN = 500;
/** So long shops with much to do have further turns; what is left then is due at the next tick. */
const TURNS_MS = 45_000;

export type Shops = {
  /** A handle without a shop. */
  readonly outside: Db;
  readonly now: Date;
  /** Shops that have a turn at every tick: something outside is asked for them. */
  readonly always: readonly string[];
  readonly atOnce: number;
  /** What works for a shop, made ready for its turn. */
  shellOf(shopId: string): Promise<Shell>;
  trouble(shopId: string, error: unknown): void;
};

/** One tick of every job for every shop that has anything due, in turns. One shop's trouble is not the others'. */
export async function tickShops({ outside, now, always, atOnce, shellOf, trouble }: Shops): Promise<void> {
  const due = await shopsToWorkFor(outside, now);
  const began = performance.now();
  const turn = async (shopId: string): Promise<boolean> => {
    try {
      const shell = await shellOf(shopId);
      const left = await tick(shell, A_TURN);
      const next = nextByTheClock(await findShop(shell.db, shopId), now);
      await keepClockAt(shell.db, shopId, now, next);
      return left;
    } catch (error) {
      trouble(shopId, error);
      return false;
    }
  };
  await inTurns([...new Set([...always, ...due])], atOnce, turn, () => performance.now() - began < TURNS_MS);
}

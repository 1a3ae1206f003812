import { dayOfWearAt } from '../channels/civilHours.ts';
import { type Expectation, whatToExpect } from '../optics/whatToExpect.ts';
import { keepForetold, pairsToForetell } from '../store/foretold.ts';
import { allShops, type Shop } from '../store/shops.ts';
import { jobFactsOf } from './jobFactsOf.ts';
import { jobToCome } from './jobToCome.ts';
import { ASK_HOUR, addDays, localDay } from './planSlots.ts';
import type { Shell } from './shell.ts';

/** Rung on this day of wear, a day before the first question goes out. Our own choice. */
const RING_DAY = 2;
/** A pair that has been worn for longer when it is first seen is past being rung early. */
const EARLY_DAYS = 7;
const PAIRS_A_TICK = 100;

/** One of these alone is enough. Our own choice: what may hurt somebody, or make reading or two eyes together hard. */
const WEIGHTY: ReadonlySet<Expectation['what']> = new Set([
  'fall risk',
  'imbalance at reading level',
  'little near zone',
  'anisometropia',
]);
/** Of the others so many different ones. Our own choice. */
const ENOUGH_KINDS = 2;

/**
 * Looks once at every pair that has just reached its wearer: where its job foretells trouble, the wearer is put on the ring list
 * for the second day of wear, with each reason and its number. Returns how many are to be rung.
 */
export async function foretell(shell: Shell): Promise<number> {
  const now = shell.clock.now();
  let toRing = 0;
  for (const shop of await allShops(shell.db)) {
    const since = addDays(localDay(now, shop.time_zone), -EARLY_DAYS);
    for (const pair of await pairsToForetell(shell.db, shop.shop_id, since, PAIRS_A_TICK)) {
      const why = await foretoldOf(shell, shop, pair, now);
      const ringAt = dayOfWearAt(pair.zone_candidates, pair.first_worn_on, RING_DAY, ASK_HOUR);
      await keepForetold(shell.db, shop.shop_id, pair, why, ringAt, now);
      if (why !== null) toRing += 1;
    }
  }
  return toRing;
}

/** Whether there are more such pairs than were looked at: after a large file was taken in. */
export async function someLeftToForetell(shell: Shell): Promise<boolean> {
  for (const shop of await allShops(shell.db)) {
    const since = addDays(localDay(shell.clock.now(), shop.time_zone), -EARLY_DAYS);
    if ((await pairsToForetell(shell.db, shop.shop_id, since, 1)).length > 0) return true;
  }
  return false;
}

async function foretoldOf(
  shell: Shell,
  shop: Shop,
  pair: { pair_id: string; birth_year: number | null; first_multifocal: boolean | null },
  now: Date,
): Promise<string | null> {
  const today = localDay(now, shop.time_zone);
  const facts = await jobFactsOf(shell.db, shop.shop_id, pair.pair_id, today);
  const ageYears = pair.birth_year === null ? undefined : Number(today.slice(0, 4)) - pair.birth_year;
  const job = jobToCome(facts, { firstMultifocal: pair.first_multifocal, ageYears });
  return job ? ringEarlyWords(whatToExpect(job)) : null;
}

/** Why somebody is rung early, each reason with its number and threshold; null where it is not enough for a call. */
export function ringEarlyWords(expected: readonly Expectation[]): string | null {
  const worst = new Map<string, Expectation>();
  for (const one of expected) {
    const held = worst.get(one.what);
    if (!held || further(one) > further(held)) worst.set(one.what, one);
  }
  const kinds = [...worst.values()];
  if (!kinds.some(({ what }) => WEIGHTY.has(what)) && kinds.length < ENOUGH_KINDS) return null;
  return kinds.map(reasonWords).join(', ');
}

const further = ({ number, threshold }: Expectation): number => Math.abs(number - threshold);

function reasonWords({ what, number, threshold, unit, when }: Expectation): string {
  const figure = (value: number) =>
    unit === 'D' || unit === 'pd' ? value.toFixed(2) : String(Math.round(value * 10) / 10);
  return `${what} ${figure(number)} ${unit} (told ${when === 'below' ? 'under' : 'from'} ${figure(threshold)})`;
}

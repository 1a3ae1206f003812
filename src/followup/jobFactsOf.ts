import type { Db, Trx } from '../store/database.ts';
import type { FactRow } from '../store/jobs.ts';
import { type GroundFact, type PairGround, pairGround } from '../store/pairGround.ts';
import { daysBetween } from './planSlots.ts';
import { standardOfShop } from './toleranceStandard.ts';
import { usualErrors } from './usualErrors.ts';

/**
 * What is known of a pair, under the names that the ranking of causes reads. Of several facts for one key and eye the
 * newest stands. A fact that nobody recorded is left out: unknown, not normal.
 */
export async function jobFactsOf(
  db: Db | Trx,
  shopId: string,
  pairId: string,
  today: string,
): Promise<Record<string, unknown>> {
  const ground = await pairGround(db, shopId, pairId);
  return ground ? jobFactsFrom(ground, today) : {};
}

/** The same, of a pair that was read already. */
export function jobFactsFrom(
  { pair, design, wearer, shop, facts: rows }: PairGround,
  today: string,
): Record<string, unknown> {
  const facts = { ...gather(rows), ...pdMadeAndMeasured(rows) };
  return withoutUnknown({
    corridor_mm: design.corridor_mm,
    design_min_height_mm: design.min_height_mm,
    abbe: design.abbe,
    ...facts,
    ...usualErrors(rows),
    limits_by: standardOfShop(shop),
    day: Math.max(0, daysBetween(pair.first_worn_on, today)),
    age_y: wearer.birth_year ? Number(today.slice(0, 4)) - wearer.birth_year : undefined,
  });
}

/**
 * A PD that was measured after the order is the wearer's; the pair was made to the one ordered, as long as nobody has read what it
 * was made to.
 */
function pdMadeAndMeasured(rows: readonly GroundFact[]): Record<string, unknown> {
  const pds = rows.filter(({ key }) => key === 'wearer_pd_mm');
  const ordered = pds.filter(({ source }) => source === 'order');
  const measured = pds.filter(({ source }) => source !== 'order');
  if (ordered.length === 0 || measured.length === 0 || rows.some(({ key }) => key === 'made_pd_mm'))
    return {};
  return {
    made_pd_mm: gather(ordered).wearer_pd_mm,
    wearer_pd_mm: gather(measured).wearer_pd_mm,
  };
}

/** One value for a key without eyes; `rx_R`, `rx_L` for powers; `{ R, L }` for what is told of both eyes. */
export function gather(rows: readonly Pick<FactRow, 'key' | 'eye' | 'value'>[]): Record<string, unknown> {
  const facts: Record<string, unknown> = {};
  for (const { key, eye, value } of rows) {
    if (eye === null) facts[key] = value;
    else if (Array.isArray(value)) facts[`${key}_${eye}`] = value;
    else {
      const held = facts[key];
      facts[key] = { ...(isEyes(held) ? held : {}), [eye]: value };
    }
  }
  return facts;
}

const isEyes = (value: unknown): value is { R?: unknown; L?: unknown } =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const withoutUnknown = (facts: Record<string, unknown>): Record<string, unknown> =>
  Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined && value !== null));

import { ACT_SETTINGS, type ActSettings, type WayCost } from '../causes/catalogue/acts.ts';
import type { Act } from '../causes/catalogue/types.ts';
import type { ShopSettings } from '../store/tables.ts';

/** What an hour of staff costs in the catalogue's own figures. Common practice, no source. */
const USUAL_HOUR = 24;
/** Acts whose cost is the time of staff. */
const STAFF_TIME: ReadonlySet<Act> = new Set<Act>(['coach', 'adjust', 're-measure', 'check-order']);
/** Acts that by post take a parcel both ways; pads for an adjustment go in a letter. */
const BY_PARCEL: ReadonlySet<Act> = new Set<Act>(['check-order', 'remake']);

/**
 * What acts cost in this shop: staff time at its own hour, a remake at its own price of lenses and time, parcels at its own postage;
 * what the shop has not filled in stays as the catalogue has it. A wearer whose glasses went by post lives too far to come in.
 */
export function actSettings(
  { costs = {} }: Pick<ShopSettings, 'costs'>,
  way: 'counter' | 'post',
): ActSettings {
  const hourTimes = costs.staffCostPerHour === undefined ? 1 : costs.staffCostPerHour / USUAL_HOUR;
  const priced = (act: Act, ways: readonly WayCost[]): readonly WayCost[] => {
    const here = ways[0]!.cost;
    const atShop = act === 'remake' ? remakeCost(costs, here) : STAFF_TIME.has(act) ? here * hourTimes : here;
    return ways.map((one) => {
      const parcels = one.way === 'by post' && BY_PARCEL.has(act) ? costs.postagePerReturn : undefined;
      return { ...one, cost: atShop + (parcels ?? one.cost - here) };
    });
  };
  const entries = Object.entries(ACT_SETTINGS.ways) as [Act, readonly WayCost[]][];
  return {
    ...ACT_SETTINGS,
    ways: Object.fromEntries(entries.map(([act, ways]) => [act, priced(act, ways)])) as ActSettings['ways'],
    wearerIsFar: way === 'post',
  };
}

/** Lenses and staff time of a remake; where the shop has not said what lenses cost, the catalogue's figure. */
function remakeCost(
  { lensesPerRemake, staffHoursPerReturn, staffCostPerHour }: NonNullable<ShopSettings['costs']>,
  usual: number,
): number {
  if (lensesPerRemake === undefined) return usual;
  return lensesPerRemake + (staffHoursPerReturn ?? 0) * (staffCostPerHour ?? USUAL_HOUR);
}

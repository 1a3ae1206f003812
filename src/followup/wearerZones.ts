import type { ValidJob } from '../intake/job.ts';
import { zoneSet } from '../intake/zones.ts';
import type { Shop } from '../store/shops.ts';

export type WearerZones = { readonly zones: readonly string[]; readonly how: string };

/**
 * The zones in which a wearer may be, from what a job says of them: the zone as written, else every zone of country, state
 * and postcode, else, for someone met at the counter, the shop's own. Never empty.
 */
export function wearerZones(
  shop: Pick<Shop, 'country' | 'time_zone'>,
  job: Pick<ValidJob, 'wearer' | 'way'>,
): WearerZones {
  const { zone, country, region, postcode } = job.wearer;
  if (zone !== undefined) return { zones: [zone], how: 'as written' };
  // The intake fills in the shop's own country, which says no more than that nobody wrote another.
  const abroad = country !== undefined && country !== shop.country;
  const told = region !== undefined || postcode !== undefined || abroad;
  if (!told && job.way !== 'post') return { zones: [shop.time_zone], how: "the shop's, met at the counter" };
  const zones = zoneSet(country ?? shop.country, region, postcode);
  return {
    zones: zones.length > 0 ? zones : [shop.time_zone],
    how: 'from country, state and postcode',
  };
}

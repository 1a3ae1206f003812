import { bad, type Checked, good } from '../problems.ts';
import type { OwnBias } from '../review/ownBias.ts';
import { addAudit } from '../store/audit.ts';
import { keepSettings, lockShop } from '../store/shops.ts';
import type { OrderWarning, ShopSettings } from '../store/tables.ts';
import type { Shell } from './shell.ts';

type Asked = { readonly what: string; readonly how: string; readonly on: boolean };

/**
 * Switches the warning at the order on or off for one way of measuring. Switched on it says what `leans`, the leans found in
 * the shop's own pairs, gave on that day; a lean that is not beyond luck cannot be warned of.
 */
export async function warnAtOrder(
  shell: Shell,
  shopId: string,
  asked: Asked,
  leans: readonly OwnBias[],
  today: string,
  by: string,
): Promise<Checked<{ readonly on: boolean }>> {
  const found = leans.find(({ what, group }) => what === asked.what && group === asked.how);
  if (asked.on && !found?.offerWarning) {
    return bad({
      code: 'no-lean',
      what: `Nothing beyond luck is known of ${asked.what} by ${asked.how}.`,
      where: 'how',
      mend: 'Open Lens designs again: the figures may have moved on.',
    });
  }
  return shell.db.transaction().execute(async (trx) => {
    const shop = await lockShop(trx, shopId);
    const others = (shop.settings.warnAtOrder ?? []).filter(
      ({ what, how }) => what !== asked.what || how !== asked.how,
    );
    const warnings = asked.on && found ? [...others, warningOf(found, today)] : others;
    await keepSettings(trx, shopId, { ...shop.settings, warnAtOrder: warnings });
    const act = `warning at order ${asked.on ? 'on' : 'off'}`;
    await addAudit(trx, shopId, { by, act, subject: shopId, detail: asked }, shell.clock.now());
    return good({ on: asked.on });
  });
}

const warningOf = ({ what, group, meanMm, interval, n }: OwnBias, today: string): OrderWarning => ({
  what,
  how: group,
  meanMm,
  lowMm: interval.low,
  highMm: interval.high,
  pairs: n,
  on: today,
});

/** The warnings for a job measured in a way, or all that are on when that is not known yet. */
export const orderWarnings = ({ warnAtOrder: on = [] }: ShopSettings, how?: string): OrderWarning[] =>
  on.filter((one) => how === undefined || one.how === how);

/** "Fitting heights measured by photo have run 1.1 mm low here (0.6 to 1.6, 23 pairs): measure again before you order." */
export function warningWords({ what, how, meanMm, lowMm, highMm, pairs, on }: OrderWarning): string {
  const [near, far] = [Math.abs(lowMm), Math.abs(highMm)].sort((a, b) => a - b);
  const which = what === 'fitting height' ? 'Fitting heights' : 'Monocular PDs';
  return (
    `${which} measured by ${how} have run ${Math.abs(meanMm).toFixed(1)} mm ${meanMm > 0 ? 'low' : 'high'} here ` +
    `(${near!.toFixed(1)} to ${far!.toFixed(1)}, ${pairs} pairs measured again, as of ${on}): measure again before you order.`
  );
}

import type { NewShop } from '../store/shops.ts';

/** The invented shop: nobody in it is real, numbers are reserved for fiction, addresses stand at example domains. */
export const INVENTED_SHOP: NewShop = {
  shopId: 'invented',
  name: 'Lantern Street Opticians (invented)',
  kind: 'invented',
  country: 'US',
  timeZone: 'America/New_York',
  settings: {
    phone: '+1 202-555-0100',
    textName: 'Lantern St',
    localNumbers: [
      { who: 'emergency', number: '911' },
      { who: 'eye line (invented)', number: '202-555-0199' },
    ],
    labWindow: { days: 60, from: 'lab invoiced' },
    promiseDays: 30,
  },
  owner: { name: 'Ada Example', email: 'ada@lantern-street.example', phoneE164: '+12025550100' },
};

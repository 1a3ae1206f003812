import type { Act } from './types.ts';

export type Way = 'at the shop' | 'by post' | 'by phone' | 'at an optician near the wearer';

/** What one way of doing an act costs, in the shop's own money, and how many days it takes. */
export type WayCost = { readonly way: Way; readonly cost: number; readonly days: number };

export type ActSettings = {
  readonly ways: Readonly<Record<Act, readonly WayCost[]>>;
  /** What a step that does not cure costs: a second round, trust, and in the end perhaps the price of the pair. */
  readonly missCost: number;
  /** Days that a remake needs at the lab and on the way. */
  readonly labDays: number;
  /** Days of wear that a remake needs before it can be judged. */
  readonly trialDays: number;
  /** The wearer lives too far to come in: acts that need the wearer go elsewhere. */
  readonly wearerIsFar: boolean;
};

/** Defaults: common practice, no source. Each shop sets its own. */
export const ACT_SETTINGS: ActSettings = {
  ways: {
    coach: [{ way: 'by phone', cost: 6, days: 0 }],
    adjust: [
      { way: 'at the shop', cost: 8, days: 2 },
      { way: 'at an optician near the wearer', cost: 20, days: 4 },
      { way: 'by post', cost: 12, days: 4 },
    ],
    'check-order': [
      { way: 'at the shop', cost: 8, days: 1 },
      { way: 'by post', cost: 18, days: 6 },
    ],
    're-measure': [
      { way: 'at the shop', cost: 18, days: 3 },
      { way: 'at an optician near the wearer', cost: 35, days: 6 },
    ],
    remake: [
      { way: 'at the shop', cost: 110, days: 12 },
      { way: 'by post', cost: 122, days: 16 },
    ],
    prescriber: [
      { way: 'at the shop', cost: 30, days: 7 },
      { way: 'at an optician near the wearer', cost: 45, days: 9 },
    ],
    urgent: [{ way: 'by phone', cost: 0, days: 0 }],
  },
  missCost: 300,
  labDays: 12,
  trialDays: 14,
  wearerIsFar: false,
};

/** Causes that stick-on pads by post and words can mend. Bending is for a shop. Common practice, no source. */
export const WEARER_MAY_MEND: ReadonlySet<string> = new Set(['frame-slipped', 'bridge-fit']);

/**
 * The chance that an act cures a cause, by its place in the list of the acts of that cause. Common practice, no source.
 */
export const CURES_BY_PLACE: readonly number[] = [0.9, 0.35, 0.25, 0.2];

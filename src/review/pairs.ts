/** What the review reads: one row for every pair that was handed over. Days are whole day numbers of one calendar. */

export type PairOutcome =
  | 'settled'
  | 'settled after adjusting'
  | 'remade in the same design'
  | 'exchanged'
  | 'refunded'
  | 'kept, not happy'
  | 'stopped wearing'
  | 'lost touch';

/** Why a pair came back, as the shop recorded it. */
export const REASONS = [
  'settling',
  'measured',
  'made wrong',
  'typed wrong',
  'prescription',
  'finish or breakage',
  'changed mind',
] as const;
export type Reason = (typeof REASONS)[number];

/**
 * Settling-type reasons: the wearer could not see or settle through the pair. A scratch, a broken screw or a change of
 * mind says nothing of the design, so rates with and without them are never put in one row. Common practice, no source.
 */
export const SETTLING_REASONS: ReadonlySet<Reason> = new Set([
  'settling',
  'measured',
  'made wrong',
  'typed wrong',
  'prescription',
]);

/** The days on which every wearer is asked; nothing is seen between them. */
export const LOOK_DAYS = [7, 14, 30] as const;
export type LookDay = (typeof LOOK_DAYS)[number];

/** What one look showed. `silent`: asked and not answered; `not due`: not asked yet, or no longer. */
export type LookState = 'settled' | 'not yet' | 'silent' | 'not due';

/** Re-measured beside ordered, in millimetres, one row for each eye and quantity. */
export type ReMeasured = {
  readonly what: 'fitting height' | 'monocular PD';
  readonly orderedMm: number;
  readonly reMeasuredMm: number;
};

export type FinishedPair = {
  readonly pairId: string;
  readonly jobNumber: string;
  readonly design: string | null;
  readonly material: string | null;
  readonly lightReactiveGrade: string | null;
  readonly wrapClass: string | null;
  readonly depthClass: string | null;
  readonly addBand: string | null;
  readonly firstWearer: boolean | null;
  readonly measuredBy: string | null;
  readonly measuredHow: string | null;
  readonly soldBy: string | null;
  readonly lab: string | null;
  /** Month of the hand-over, as "2026-03". */
  readonly month: string;
  readonly handedOverDay: number;
  /** Day 0 of all that the wearer feels; the hand-over when it is not known. */
  readonly firstWornDay?: number | undefined;
  /** Day of the outcome; always there when there is one, for without it a pair that came back could not be counted. */
  readonly endedDay?: number | undefined;
  /** null while the pair is still followed. */
  readonly outcome: PairOutcome | null;
  readonly reason?: Reason | undefined;
  readonly looks: Readonly<Record<LookDay, LookState>>;
  /** The leading cause on the screen when the act was chosen, and its share. */
  readonly causeSuggested?: string | undefined;
  readonly causeSuggestedShare?: number | undefined;
  readonly causeFound?: string | undefined;
  readonly causeFoundHow?: 'found at the bench' | 'cured by the act' | 'said' | undefined;
  readonly actSuggested?: string | undefined;
  readonly actTaken?: string | undefined;
  readonly reMeasured?: readonly ReMeasured[] | undefined;
  readonly borneBy?: string | undefined;
  /** What the lab charged for the new lenses, when its invoice is known. */
  readonly labCharge?: number | undefined;
  readonly refundPaid?: number | undefined;
  readonly creditPromised?: number | undefined;
  readonly creditReceived?: number | undefined;
  /** The lab's window was over before the lenses were asked for again. */
  readonly windowMissed?: boolean | undefined;
};

/** By what the pairs can be grouped. */
export const GROUPINGS = [
  'design',
  'material',
  'lightReactiveGrade',
  'wrapClass',
  'depthClass',
  'addBand',
  'firstWearer',
  'measuredBy',
  'measuredHow',
  'soldBy',
  'lab',
  'month',
] as const;
export type Grouping = (typeof GROUPINGS)[number];

/** Numbers about a person are for coaching: never in order of rate, and hidden while there are few. */
export const PERSON_GROUPINGS: ReadonlySet<Grouping> = new Set(['measuredBy', 'soldBy']);

export const NOT_RECORDED = 'not recorded';

export const firstWearerInWords = (first: boolean | null): string =>
  first === null ? NOT_RECORDED : first ? 'first multifocal' : 'worn before';

/** The group of a pair, in words. */
export function groupOf(pair: FinishedPair, by: Grouping): string {
  if (by === 'firstWearer') return firstWearerInWords(pair.firstWearer);
  return pair[by] || NOT_RECORDED;
}

/** Which reasons a rate counts; named beside every number. */
export type ReasonsCounted = 'settling-type reasons' | 'all reasons';

/** How a pair came back. `other reason` only where settling-type reasons are counted: it ends the watch uncounted. */
export const WAYS_BACK = ['remade', 'exchanged', 'refunded', 'other reason'] as const;
export type WayBack = (typeof WAYS_BACK)[number];

export type CameBack = { readonly way: WayBack; readonly afterDays: number };

/**
 * Whether and when a pair came back, as known today. A pair that came back without a recorded reason counts among all
 * reasons, and as `other reason` among settling-type ones.
 */
export function cameBack(pair: FinishedPair, reasons: ReasonsCounted, today: number): CameBack | null {
  const way = wayOf(pair.outcome);
  if (way === null || pair.endedDay === undefined || pair.endedDay > today) return null;
  const counted =
    reasons === 'all reasons' || (pair.reason !== undefined && SETTLING_REASONS.has(pair.reason));
  return {
    way: counted ? way : 'other reason',
    afterDays: Math.max(0, pair.endedDay - pair.handedOverDay),
  };
}

function wayOf(outcome: PairOutcome | null): WayBack | null {
  if (outcome === 'remade in the same design') return 'remade';
  return outcome === 'exchanged' || outcome === 'refunded' ? outcome : null;
}

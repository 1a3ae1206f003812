import { CATALOGUE } from '../causes/catalogue/index.ts';
import { type FinishedPair, type LookState, REASONS, type Reason, type ReMeasured } from '../review/pairs.ts';
import type { Db } from '../store/database.ts';
import {
  type ReviewActRow,
  type ReviewClaimRow,
  type ReviewFactRow,
  type ReviewLookRow,
  type ReviewPairRow,
  reviewRows,
} from '../store/pages/lensDesigns.ts';
import type { ShopSettings } from '../store/tables.ts';
import { deadlinesOf } from './deadlines.ts';
import { TROUBLES } from './troubles.ts';

/** A pair as the review reads it, with the job that its number opens. */
export type ReviewedPair = FinishedPair & { readonly jobId: string };

/**
 * Every pair of a shop that was handed over, as the review reads it. `today` is the shop's own calendar day. Days are
 * counted from 1970-01-01. Oldest hand-over first.
 */
export async function finishedPairs(
  db: Db,
  shopId: string,
  settings: ShopSettings,
  today: string,
): Promise<ReviewedPair[]> {
  const rows = await reviewRows(db, shopId, { factKeys: FACT_KEYS, troubles: [...TROUBLES] });
  const facts = new Map(rows.facts.map((row) => [row.job_id, row]));
  const looks = new Map(rows.looks.map((row) => [row.pair_id, row]));
  const acts = new Map(rows.acts.map((row) => [row.pair_id, row]));
  const claims = new Map(rows.claims.map((row) => [row.job_id, row]));
  return rows.pairs.map((pair) => ({
    ...ofPair(pair, looks.get(pair.pair_id), dayNumber(today)),
    ...ofFacts(pair, facts.get(pair.job_id)),
    ...ofAct(acts.get(pair.pair_id)),
    ...ofClaim(pair, claims.get(pair.job_id), settings),
  }));
}

const DAY_MS = 86_400_000;

/** Whole days from 1970-01-01 to a calendar day. */
export const dayNumber = (day: string): number => Date.parse(`${day}T00:00:00Z`) / DAY_MS;

/** An answer may take three days before silence is called silence. Our own choice. */
const PATIENCE_DAYS = 3;

function ofPair(row: ReviewPairRow, look: ReviewLookRow | undefined, today: number) {
  const first = dayNumber(row.first_worn_on);
  const state = (day: number, bit: number): LookState => {
    if (look && (look.answered & bit) !== 0) return (look.settled & bit) !== 0 ? 'settled' : 'not yet';
    return look && (look.asked & bit) !== 0 && first + day + PATIENCE_DAYS <= today ? 'silent' : 'not due';
  };
  return {
    pairId: row.pair_id,
    jobId: row.job_id,
    jobNumber: row.job_key,
    design: row.design,
    firstWearer: row.first_multifocal,
    soldBy: row.sold_by,
    lab: row.lab,
    month: row.handed_over_on.slice(0, 7),
    handedOverDay: dayNumber(row.handed_over_on),
    firstWornDay: first,
    endedDay: row.ended_on === null ? undefined : dayNumber(row.ended_on),
    outcome: row.outcome,
    reason: reasonOf(row),
    looks: { 7: state(7, 1), 14: state(14, 2), 30: state(30, 4) },
    causeFound: row.cause ?? undefined,
    causeFoundHow: howOf(row),
    borneBy: row.borne_by ?? undefined,
  };
}

const KNOWN_REASONS: ReadonlySet<string> = new Set(REASONS);

/** The recorded reason; else the one that the cause on record stands for; else none. */
function reasonOf({ reason, cause }: Pick<ReviewPairRow, 'reason' | 'cause'>): Reason | undefined {
  if (reason !== null && KNOWN_REASONS.has(reason)) return reason as Reason;
  return cause === null ? undefined : REASON_OF_CAUSE.get(cause);
}

const TOLD_BY_NAME: Readonly<Record<string, Reason>> = {
  'transcription-error': 'typed wrong',
  'wrong-item-sent': 'made wrong',
  'pair-mismatch': 'made wrong',
  'not-light-reactive': 'made wrong',
  'coating-damage': 'finish or breakage',
  'coating-fault': 'finish or breakage',
  'part-broken': 'finish or breakage',
  'dye-fatigue': 'finish or breakage',
  'changed-mind': 'changed mind',
};

/** What a cause says about why a pair came back: by its name, else by who bears it. Common practice, no source. */
export const REASON_OF_CAUSE: ReadonlyMap<string, Reason> = new Map(
  CATALOGUE.map(({ id, group, bears }) => {
    const byBearer: Reason | undefined =
      bears === 'lab' ? 'made wrong' : bears === 'prescriber' ? 'prescription' : undefined;
    const byGroup: Reason = group === 'place-on-face' ? 'measured' : 'settling';
    return [id, TOLD_BY_NAME[id] ?? byBearer ?? byGroup];
  }),
);

function howOf({ cause, cause_how: how }: ReviewPairRow): FinishedPair['causeFoundHow'] {
  if (cause === null) return undefined;
  return how === 'found at the bench' || how === 'cured by the act' ? how : 'said';
}

const FACT_KEYS = [
  'material',
  'refractive_index',
  'light_reactive',
  'light_reactive_grade',
  'wrap_deg',
  'wrap_assumed_deg',
  'frame_b_mm',
  'add_D',
  'order_add_D',
  'measured',
  'measured_by',
  'fitting_height_mm',
  'wearer_pd_mm',
  'cross_above_pupil_mm',
  'cross_nasal_mm',
] as const;
type FactKey = (typeof FACT_KEYS)[number];
type Eye = 'R' | 'L';
type Facts = ReviewFactRow['facts'];

function ofFacts(row: ReviewPairRow, held: ReviewFactRow | undefined) {
  const facts = held?.facts ?? [];
  const last = new Map<string, unknown>();
  for (const fact of facts) last.set(fact[0], fact[2]);
  const newest = (key: FactKey): unknown => last.get(key);
  const number = (...keys: FactKey[]): number | undefined =>
    keys.map(newest).find((value): value is number => typeof value === 'number');
  const text = (key: FactKey): string | null => {
    const value = newest(key);
    return typeof value === 'string' && value !== '' ? value : null;
  };
  const index = number('refractive_index') ?? row.design_index ?? undefined;
  const measurer = facts.find(([key]) => key === 'fitting_height_mm' || key === 'wearer_pd_mm')?.[4] ?? null;
  return {
    material: text('material') ?? (index === undefined ? null : `index ${index.toFixed(2)}`),
    lightReactiveGrade: text('light_reactive_grade') ?? reactive(newest('light_reactive')),
    wrapClass: wrapClass(number('wrap_deg', 'wrap_assumed_deg')),
    depthClass: depthClass(number('frame_b_mm')),
    addBand: addBand(number('order_add_D', 'add_D')),
    measuredBy: text('measured_by') ?? measurer,
    measuredHow: text('measured'),
    reMeasured: facts.some(isMeasuredAgain)
      ? [...reMeasured(facts, 'fitting height'), ...reMeasured(facts, 'monocular PD')]
      : [],
  };
}

/** Few pairs are measured again, and looking into each by eye takes long. */
const isMeasuredAgain = (fact: Facts[number]): boolean => fact[3] === 'bench' || fact[0].startsWith('cross_');

const reactive = (value: unknown): string | null =>
  value === true ? 'light-reactive, no grade noted' : value === false ? 'not light-reactive' : null;

/** Bands are our own choice: common practice, no source. */
const wrapClass = (deg: number | undefined): string | null =>
  deg === undefined ? null : deg < 8 ? 'wrap under 8°' : deg < 15 ? 'wrap 8° to 14°' : 'wrap 15° and more';
const depthClass = (mm: number | undefined): string | null =>
  mm === undefined ? null : mm < 30 ? 'under 30 mm deep' : mm < 38 ? '30 to 37 mm deep' : '38 mm and deeper';
const addBand = (addD: number | undefined): string | null =>
  addD === undefined ? null : addD < 1.75 ? 'up to 1.50' : addD < 2.25 ? '1.75 to 2.00' : '2.25 and more';

/**
 * Ordered beside measured again at the bench, mm, one row for each eye: a height or PD that was taken anew, else reckoned
 * from where the cross stood against the pupil (above it: ordered too high; towards the nose: PD too short).
 */
function reMeasured(facts: Facts, what: ReMeasured['what']): ReMeasured[] {
  const [key, crossKey, sign] =
    what === 'fitting height'
      ? (['fitting_height_mm', 'cross_above_pupil_mm', -1] as const)
      : (['wearer_pd_mm', 'cross_nasal_mm', 1] as const);
  return (['R', 'L'] as const).flatMap((eye: Eye) => {
    const of = (name: string) =>
      facts.filter(([found, side, value]) => found === name && side === eye && typeof value === 'number');
    const taken = of(key);
    const ordered = taken.findLast(([, , , source]) => source !== 'bench')?.[2] as number | undefined;
    const again = taken.findLast(([, , , source]) => source === 'bench')?.[2] as number | undefined;
    const off = of(crossKey).at(-1)?.[2] as number | undefined;
    if (ordered === undefined || (again === undefined && off === undefined)) return [];
    return [{ what, orderedMm: ordered, reMeasuredMm: again ?? ordered + sign * off! }];
  });
}

function ofAct(row: ReviewActRow | undefined) {
  if (!row) return {};
  return {
    actSuggested: row.suggested ?? undefined,
    actTaken: row.act ?? undefined,
    causeSuggested: row.leading_cause ?? undefined,
    causeSuggestedShare: row.share ?? undefined,
  };
}

const MADE_AGAIN: ReadonlySet<string> = new Set(['remade in the same design', 'exchanged']);

/** The window counts as missed when the lab was asked, or without a claim the pair was made again, after its last day. */
function ofClaim(row: ReviewPairRow, claim: ReviewClaimRow | undefined, settings: ShopSettings) {
  const asked = claim?.asked_on ?? row.ended_on;
  const madeAgain = row.outcome !== null && MADE_AGAIN.has(row.outcome);
  const missed =
    madeAgain && asked !== null
      ? deadlinesOf(row, row, settings, row.lab_terms ?? [], asked).some(
          ({ whose, daysLeft }) => whose === 'lab' && daysLeft < 0,
        )
      : undefined;
  return {
    creditPromised: claim?.promised ?? undefined,
    creditReceived: claim?.credited ?? undefined,
    windowMissed: missed,
  };
}

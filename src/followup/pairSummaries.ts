import type { FinishedPair, ReMeasured } from '../review/pairs.ts';
import type { Db } from '../store/database.ts';
import {
  type ReviewActRow,
  type ReviewClaimRow,
  type ReviewFactRow,
  type ReviewLookRow,
  type ReviewPairRow,
  reviewRows,
} from '../store/pages/lensDesigns.ts';
import type { Outcome } from '../store/tables.ts';
import { TROUBLES } from './troubles.ts';

/**
 * What the review needs of one pair and only a write to the pair's own records can change: neither the day nor the shop's
 * settings nor what a design is called now. Days are counted from 1970-01-01.
 */
export type PairSummary = {
  readonly pairId: string;
  readonly jobId: string;
  readonly jobNumber: string;
  readonly designId: string;
  readonly labId: string | null;
  readonly material: string | null;
  readonly index: number | null;
  readonly lightReactiveGrade: string | null;
  readonly wrapClass: string | null;
  readonly depthClass: string | null;
  readonly addBand: string | null;
  readonly firstWearer: boolean | null;
  readonly measuredBy: string | null;
  readonly measuredHow: string | null;
  readonly soldBy: string | null;
  readonly handedOverDay: number;
  readonly firstWornDay: number;
  readonly endedDay: number | null;
  readonly outcome: Outcome | null;
  readonly reason: string | null;
  /** Sets of looks: bit 1 for day 7, bit 2 for day 14, bit 4 for day 30. */
  readonly asked: number;
  readonly answered: number;
  readonly settled: number;
  /** What few pairs have. */
  readonly more?: More;
};

export type More = {
  readonly reMeasured?: readonly ReMeasured[];
  readonly act?: Pick<FinishedPair, 'actSuggested' | 'actTaken' | 'causeSuggested' | 'causeSuggestedShare'>;
  readonly cause?: string;
  readonly causeHow?: string;
  readonly borneBy?: string;
  readonly creditPromised?: number;
  readonly creditReceived?: number;
  /** When the lenses were asked for again, and what a lab's window may count from. */
  readonly madeAgain?: {
    readonly askedOn: string;
    readonly ordered_on: string | null;
    readonly lab_invoiced_on: string | null;
    readonly received_on: string | null;
    readonly posted_on: string | null;
    readonly handed_over_on: string;
    readonly first_worn_on: string;
  };
};

/** Raised whenever the summary of a pair would come out otherwise than before from the same records. */
const EDITION = 2;

/** Names what summaries are made by: made by anything else they are made anew. */
export const summaryEdition = (): string =>
  `${EDITION} ${FACT_KEYS.join(',')} ${[...TROUBLES].sort().join(',')}`;

/** The summaries of a shop's pairs, or of some of them, from the records; in no particular order. */
export async function pairSummaries(
  db: Db,
  shopId: string,
  pairIds?: readonly string[],
): Promise<PairSummary[]> {
  const asked = { factKeys: FACT_KEYS, troubles: [...TROUBLES] };
  const rows = await reviewRows(db, shopId, asked, pairIds);
  const facts = new Map(rows.facts.map((row) => [row.job_id, row]));
  const looks = new Map(rows.looks.map((row) => [row.pair_id, row]));
  const acts = new Map(rows.acts.map((row) => [row.pair_id, row]));
  const claims = new Map(rows.claims.map((row) => [row.job_id, row]));
  return rows.pairs.map((row): PairSummary => {
    const found = ofFacts(facts.get(row.job_id));
    const more = moreOf(row, found.reMeasured, acts.get(row.pair_id), claims.get(row.job_id));
    return {
      ...ofPair(row, looks.get(row.pair_id)),
      ...found.groups,
      ...(Object.keys(more).length === 0 ? {} : { more }),
    };
  });
}

const DAY_MS = 86_400_000;

/** Whole days from 1970-01-01 to a calendar day. */
export const dayNumber = (day: string): number => Date.parse(`${day}T00:00:00Z`) / DAY_MS;

function ofPair(row: ReviewPairRow, look: ReviewLookRow | undefined) {
  return {
    pairId: row.pair_id,
    jobId: row.job_id,
    jobNumber: row.job_key,
    designId: row.design_id,
    labId: row.lab_id,
    firstWearer: row.first_multifocal,
    soldBy: row.sold_by,
    handedOverDay: dayNumber(row.handed_over_on),
    firstWornDay: dayNumber(row.first_worn_on),
    endedDay: row.ended_on === null ? null : dayNumber(row.ended_on),
    outcome: row.outcome,
    reason: row.reason,
    asked: look?.asked ?? 0,
    answered: look?.answered ?? 0,
    settled: look?.settled ?? 0,
  };
}

const MADE_AGAIN: ReadonlySet<string> = new Set(['remade in the same design', 'exchanged']);

function moreOf(
  row: ReviewPairRow,
  reMeasured: readonly ReMeasured[],
  act: ReviewActRow | undefined,
  claim: ReviewClaimRow | undefined,
): More {
  const askedOn = claim?.asked_on ?? row.ended_on;
  const { ordered_on, lab_invoiced_on, received_on, posted_on, handed_over_on, first_worn_on } = row;
  const madeAgain = { ordered_on, lab_invoiced_on, received_on, posted_on, handed_over_on, first_worn_on };
  return known({
    reMeasured: reMeasured.length > 0 ? reMeasured : undefined,
    act:
      act &&
      known({
        actSuggested: act.suggested ?? undefined,
        actTaken: act.act ?? undefined,
        causeSuggested: act.leading_cause ?? undefined,
        causeSuggestedShare: act.share ?? undefined,
      }),
    cause: row.cause ?? undefined,
    causeHow: row.cause_how ?? undefined,
    borneBy: row.borne_by ?? undefined,
    creditPromised: claim?.promised ?? undefined,
    creditReceived: claim?.credited ?? undefined,
    madeAgain:
      row.outcome !== null && MADE_AGAIN.has(row.outcome) && askedOn !== null
        ? { askedOn, ...madeAgain }
        : undefined,
  });
}

type Known<T> = { [K in keyof T]?: Exclude<T[K], undefined> };

/** Only what is known, so that a summary comes back from its block as it went in. */
const known = <T extends object>(of: T): Known<T> =>
  Object.fromEntries(Object.entries(of).filter(([, value]) => value !== undefined)) as Known<T>;

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

function ofFacts(held: ReviewFactRow | undefined) {
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
  const measurer = facts.find(([key]) => key === 'fitting_height_mm' || key === 'wearer_pd_mm')?.[4] ?? null;
  const groups = {
    material: text('material'),
    index: number('refractive_index') ?? null,
    lightReactiveGrade: text('light_reactive_grade') ?? reactive(newest('light_reactive')),
    wrapClass: wrapClass(number('wrap_deg', 'wrap_assumed_deg')),
    depthClass: depthClass(number('frame_b_mm')),
    addBand: addBand(number('order_add_D', 'add_D')),
    measuredBy: text('measured_by') ?? measurer,
    measuredHow: text('measured'),
  };
  return {
    groups,
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
    // What the wearer or a photograph says of a place has an error larger than our own, and a row without a value takes back.
    const of = (name: string) => {
      const told = facts.filter(
        ([found, side, , source]) =>
          found === name && side === eye && source !== 'wearer' && source !== 'photo',
      );
      const stands = told.slice(told.findLastIndex(([, , value]) => value === null) + 1);
      return stands.filter(([, , value]) => typeof value === 'number');
    };
    const taken = of(key);
    const ordered = taken.findLast(([, , , source]) => source !== 'bench')?.[2] as number | undefined;
    const again = taken.findLast(([, , , source]) => source === 'bench')?.[2] as number | undefined;
    const off = of(crossKey).at(-1)?.[2] as number | undefined;
    if (ordered === undefined || (again === undefined && off === undefined)) return [];
    return [{ what, orderedMm: ordered, reMeasuredMm: again ?? ordered + sign * off! }];
  });
}

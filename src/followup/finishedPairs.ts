import { CATALOGUE } from '../causes/catalogue/index.ts';
import {
  type Grouped,
  LOOK_STATES,
  looksCode,
  NO_END,
  OUTCOMES,
  once,
  ordered,
  type PairColumns,
  wayBackOf,
} from '../review/columns.ts';
import {
  type FinishedPair,
  firstWearerInWords,
  type Grouping,
  LOOK_DAYS,
  type LookState,
  NOT_RECORDED,
  type PairOutcome,
  REASONS,
  type Reason,
} from '../review/pairs.ts';
import type { Db } from '../store/database.ts';
import { reviewNames } from '../store/pages/lensDesigns.ts';
import type { LabTerm, ShopSettings } from '../store/tables.ts';
import { labWindow } from './deadlines.ts';
import { dayNumber, type More, pairSummaries } from './pairSummaries.ts';
import { blocksOf, type SummaryBlock, type Word, type WordKey } from './summaryBlock.ts';

export { dayNumber } from './pairSummaries.ts';

/** A pair as the review reads it, with the job that its number opens. */
export type ReviewedPair = FinishedPair & { readonly jobId: string };
export type ReviewedPairs = PairColumns & { readonly pair: (at: number) => ReviewedPair };

/**
 * Every pair of a shop that was handed over, as the review reads it, from the records. `today` is the shop's own calendar
 * day. Days are counted from 1970-01-01. Oldest hand-over first.
 */
export async function finishedPairs(
  db: Db,
  shopId: string,
  settings: ShopSettings,
  today: number,
): Promise<ReviewedPairs> {
  const [summaries, names] = await Promise.all([pairSummaries(db, shopId), reviewNames(db, shopId)]);
  return reviewedPairs(blocksOf(summaries), { ...namesById(names), settings, today });
}

export type Names = {
  readonly designs: ReadonlyMap<string, { readonly name: string; readonly index: number | null }>;
  readonly labs: ReadonlyMap<string, { readonly name: string; readonly terms: readonly LabTerm[] }>;
};

/** What holds today for all pairs of the shop. */
export type Standing = Names & { readonly settings: ShopSettings; readonly today: number };

export const namesById = ({ designs, labs }: Awaited<ReturnType<typeof reviewNames>>): Names => ({
  designs: new Map(
    designs.map(({ design_id, name, refractive_index: index }) => [design_id, { name, index }]),
  ),
  labs: new Map(labs.map(({ lab_id, name, terms }) => [lab_id, { name, terms }])),
});

/** Pairs in columns, from blocks of their summaries. */
export function reviewedPairs(blocks: readonly SummaryBlock[], standing: Standing): ReviewedPairs {
  const count = blocks.reduce((sum, { pairId }) => sum + pairId.length, 0);
  const handedOverDay = flat(blocks, count, (block) => block.handedOverDay);
  const firstWornDay = flat(blocks, count, (block) => block.firstWornDay);
  const endedDay = flat(blocks, count, (block) => block.endedDay);
  const looks = looksOf(
    flat(blocks, count, (block) => block.looks),
    firstWornDay,
    standing.today,
  );
  const words = (key: WordKey): Coded => coded(blocks, count, key);
  const outcomes = words('outcome');
  const reasons = words('reason');
  const more = new Map<number, More>();
  let offset = 0;
  for (const block of blocks) {
    for (const [row, found] of block.more) more.set(offset + row, found);
    offset += block.pairId.length;
  }
  const outcomeOf = outcomes.words.map((word) => OUTCOMES.indexOf(word as PairOutcome));
  const outcome = Int8Array.from(outcomes.codes, (code) => outcomeOf[code]!);
  const reasonOf = reasons.words.map((word) => REASONS.indexOf(word as Reason));
  const reason = Int8Array.from(reasons.codes, (code, at) => {
    if (reasonOf[code]! >= 0) return reasonOf[code]!;
    const byCause = REASON_OF_CAUSE.get(more.get(at)?.cause ?? '');
    return byCause === undefined ? -1 : REASONS.indexOf(byCause);
  });
  const groups = once((by) => groupsBy(by, words, handedOverDay, standing));
  const pairIds = blocks.flatMap(({ pairId }) => pairId);
  const ids = ordered(() => countingSort(handedOverDay));
  const noted: number[] = [];
  for (let at = 0; at < count; at += 1) if (wayBackOf(outcome[at]!) >= 0 || more.has(at)) noted.push(at);
  const jobIds = blocks.flatMap(({ jobId }) => jobId);
  const jobNumbers = blocks.flatMap(({ jobNumber }) => jobNumber);
  const labIds = words('labId');
  const firstWearers = words('firstWearer');
  const groupAt = (by: Grouping, at: number): string | null => {
    const { names, codes } = groups(by);
    const name = names[codes[at]!]!;
    return name === NOT_RECORDED ? null : name;
  };
  const made = new Map<number, ReviewedPair>();
  const whole = (at: number): ReviewedPair => {
    const found = made.get(at) ?? make(at);
    made.set(at, found);
    return found;
  };
  const make = (at: number): ReviewedPair => ({
    pairId: pairIds[at]!,
    jobId: jobIds[at]!,
    jobNumber: jobNumbers[at]!,
    design: groupAt('design', at),
    material: groupAt('material', at),
    lightReactiveGrade: groupAt('lightReactiveGrade', at),
    wrapClass: groupAt('wrapClass', at),
    depthClass: groupAt('depthClass', at),
    addBand: groupAt('addBand', at),
    firstWearer: firstWearers.words[firstWearers.codes[at]!] as boolean | null,
    measuredBy: groupAt('measuredBy', at),
    measuredHow: groupAt('measuredHow', at),
    soldBy: groupAt('soldBy', at),
    lab: groupAt('lab', at),
    month: monthOf(handedOverDay[at]!),
    handedOverDay: handedOverDay[at]!,
    firstWornDay: firstWornDay[at]!,
    endedDay: endedDay[at] === NO_END ? undefined : endedDay[at]!,
    outcome: outcome[at]! < 0 ? null : OUTCOMES[outcome[at]!]!,
    reason: reason[at]! < 0 ? undefined : REASONS[reason[at]!]!,
    looks: LOOKS[looks[at]!]!,
    ...ofMore(more.get(at) ?? {}, labIds.words[labIds.codes[at]!] as string | null, standing),
  });
  return {
    count,
    handedOverDay,
    firstWornDay,
    endedDay,
    outcome,
    reason,
    looks,
    groups,
    inOrder: ids,
    noted: Int32Array.from(noted),
    pairId: (at) => pairIds[at]!,
    pair: whole,
  };
}

function flat(
  blocks: readonly SummaryBlock[],
  count: number,
  of: (block: SummaryBlock) => readonly number[],
): Int32Array {
  const all = new Int32Array(count);
  let offset = 0;
  for (const block of blocks) {
    all.set(of(block), offset);
    offset += block.pairId.length;
  }
  return all;
}

type Coded = { readonly words: readonly Word[]; readonly codes: Int32Array };

/** One column of words over all blocks, with one code for each word. */
function coded(blocks: readonly SummaryBlock[], count: number, key: WordKey): Coded {
  const known = new Map<Word, number>();
  const codes = new Int32Array(count);
  let offset = 0;
  for (const { words } of blocks) {
    const ours = words[key].words.map((word) => {
      const code = known.get(word) ?? known.size;
      known.set(word, code);
      return code;
    });
    const theirs = words[key].codes;
    for (let row = 0; row < theirs.length; row += 1) codes[offset + row] = ours[theirs[row]!]!;
    offset += theirs.length;
  }
  return { words: [...known.keys()], codes };
}

function groupsBy(
  by: Grouping,
  words: (key: WordKey) => Coded,
  handedOverDay: Int32Array,
  { designs, labs }: Standing,
): Grouped {
  switch (by) {
    case 'month':
      return named(handedOverDay, monthOf);
    case 'design': {
      const { words: ids, codes } = words('designId');
      return named(codes, (code) => designs.get(String(ids[code]))?.name);
    }
    case 'lab': {
      const { words: ids, codes } = words('labId');
      return named(codes, (code) => labs.get(String(ids[code]))?.name);
    }
    case 'firstWearer': {
      const { words: each, codes } = words('firstWearer');
      return named(codes, (code) => firstWearerInWords(each[code] as boolean | null));
    }
    case 'material': {
      const material = words('material');
      const index = words('index');
      const design = words('designId');
      const indices = index.words.length;
      // The material as told, else by the index of the order, else by that of the design.
      const nameOf = (code: number): string | undefined => {
        const told = material.words[Math.floor(code / indices / design.words.length)];
        if (told !== null) return String(told);
        const ordered = index.words[Math.floor(code / design.words.length) % indices];
        const n = ordered ?? designs.get(String(design.words[code % design.words.length]))?.index;
        return n === null || n === undefined ? undefined : `index ${Number(n).toFixed(2)}`;
      };
      return named(
        material.codes.map(
          (code, at) => (code * indices + index.codes[at]!) * design.words.length + design.codes[at]!,
        ),
        nameOf,
      );
    }
    default: {
      const { words: each, codes } = words(by);
      return named(codes, (code) => (each[code] as string | null) ?? undefined);
    }
  }
}

/** Groups by the names that codes stand for; several codes may stand for one name. */
function named(each: Int32Array, nameOf: (code: number) => string | undefined): Grouped {
  const groups = new Map<string, number>();
  const groupOf = new Map<number, number>();
  const codes = each.map((code) => {
    const found = groupOf.get(code);
    if (found !== undefined) return found;
    const name = nameOf(code) || NOT_RECORDED;
    const group = groups.get(name) ?? groups.size;
    groups.set(name, group);
    groupOf.set(code, group);
    return group;
  });
  return { names: [...groups.keys()], codes };
}

const MS_A_DAY = 86_400_000;
const monthOf = (day: number): string => new Date(day * MS_A_DAY).toISOString().slice(0, 7);

/** Positions in the order of the days; pairs of one day stay in the order of their ids. */
function countingSort(days: Int32Array): Int32Array {
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  for (const day of days) {
    if (day < first) first = day;
    if (day > last) last = day;
  }
  if (days.length === 0) return new Int32Array();
  const starts = new Int32Array(last - first + 2);
  for (const day of days) starts[day - first + 1]! += 1;
  for (let at = 1; at < starts.length; at += 1) starts[at]! += starts[at - 1]!;
  const order = new Int32Array(days.length);
  days.forEach((day, at) => {
    order[starts[day - first]!] = at;
    starts[day - first]! += 1;
  });
  return order;
}

/** An answer may take three days before silence is called silence. Our own choice. */
const PATIENCE_DAYS = 3;

/** The codes of the looks as they stand today: what was asked and not answered is silence only after some days. */
function looksOf(bits: Int32Array, firstWornDay: Int32Array, today: number): Uint8Array {
  const known = new Map<number, number>();
  return Uint8Array.from(bits, (of, at) => {
    const out = today - firstWornDay[at]! - PATIENCE_DAYS;
    const waited = out >= 30 ? 7 : out >= 14 ? 3 : out >= 7 ? 1 : 0;
    const key = of * 8 + waited;
    const code =
      known.get(key) ?? looksCode([1, 2, 4].map((bit) => lookState(of, bit, (waited & bit) !== 0)));
    known.set(key, code);
    return code;
  });
}

function lookState(bits: number, bit: number, waited: boolean): LookState {
  if (((bits >> 3) & bit) !== 0) return ((bits >> 6) & bit) !== 0 ? 'settled' : 'not yet';
  return (bits & bit) !== 0 && waited ? 'silent' : 'not due';
}

/** By code: the looks of a pair in words. */
const LOOKS = Array.from(
  { length: 64 },
  (_, code) =>
    Object.fromEntries(
      LOOK_DAYS.map((day, look) => [day, LOOK_STATES[(code >> (2 * look)) & 3]!]),
    ) as FinishedPair['looks'],
);

const howOf = (how: string | undefined): FinishedPair['causeFoundHow'] =>
  how === 'found at the bench' || how === 'cured by the act' ? how : 'said';

/** The window counts as missed when the lab was asked, or without a claim the pair was made again, after its last day. */
function ofMore(more: More, labId: string | null, { labs, settings }: Standing) {
  const { madeAgain, cause, causeHow } = more;
  const terms = (labId === null ? undefined : labs.get(labId)?.terms) ?? [];
  return {
    reMeasured: more.reMeasured ?? [],
    ...more.act,
    causeFound: cause,
    causeFoundHow: cause === undefined ? undefined : howOf(causeHow),
    borneBy: more.borneBy,
    creditPromised: more.creditPromised,
    creditReceived: more.creditReceived,
    windowMissed: madeAgain && windowMissed(madeAgain, terms, settings),
  };
}

function windowMissed(
  madeAgain: NonNullable<More['madeAgain']>,
  terms: readonly LabTerm[],
  settings: ShopSettings,
): boolean {
  const { start, days } = labWindow(madeAgain, madeAgain, settings, terms);
  return dayNumber(madeAgain.askedOn) > dayNumber(start) + days;
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

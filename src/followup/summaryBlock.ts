import { NO_END } from '../review/columns.ts';
import type { More, PairSummary } from './pairSummaries.ts';

/** Words that many pairs share, once each, and which of them every pair has. */
export type Words = { readonly words: readonly Word[]; readonly codes: readonly number[] };
export type Word = string | number | boolean | null;

/**
 * Summaries of pairs that follow one another by id, in columns: read and parsed in a fraction of the time that a row for
 * each pair would take. A block is text as it stands in the database.
 */
export type SummaryBlock = {
  readonly pairId: readonly string[];
  readonly jobId: readonly string[];
  readonly jobNumber: readonly string[];
  readonly handedOverDay: readonly number[];
  readonly firstWornDay: readonly number[];
  readonly endedDay: readonly number[];
  /** Asked, answered and settled looks, three bits each, asked lowest. */
  readonly looks: readonly number[];
  readonly words: Readonly<Record<WordKey, Words>>;
  /** What few pairs have, by the row in the block. */
  readonly more: readonly (readonly [row: number, more: More])[];
};

const WORD_KEYS = [
  'designId',
  'labId',
  'material',
  'index',
  'lightReactiveGrade',
  'wrapClass',
  'depthClass',
  'addBand',
  'firstWearer',
  'measuredBy',
  'measuredHow',
  'soldBy',
  'outcome',
  'reason',
] as const;
export type WordKey = (typeof WORD_KEYS)[number];

/** Enough that a big shop has a few dozen, few enough that one changed pair costs little. */
export const PAIRS_IN_BLOCK = 2048;

/** Ids are compared letter by letter, as they stand in the blocks, whatever the database's own order of letters. */
export const byPairId = (a: { readonly pairId: string }, b: { readonly pairId: string }): number =>
  a.pairId < b.pairId ? -1 : a.pairId > b.pairId ? 1 : 0;

/** Summaries in blocks, in the order of their ids. */
export function blocksOf(summaries: readonly PairSummary[]): SummaryBlock[] {
  const sorted = [...summaries].sort(byPairId);
  const blocks: SummaryBlock[] = [];
  for (let from = 0; from < sorted.length; from += PAIRS_IN_BLOCK)
    blocks.push(blockOf(sorted.slice(from, from + PAIRS_IN_BLOCK)));
  return blocks;
}

function blockOf(pairs: readonly PairSummary[]): SummaryBlock {
  return {
    pairId: pairs.map(({ pairId }) => pairId),
    jobId: pairs.map(({ jobId }) => jobId),
    jobNumber: pairs.map(({ jobNumber }) => jobNumber),
    handedOverDay: pairs.map(({ handedOverDay }) => handedOverDay),
    firstWornDay: pairs.map(({ firstWornDay }) => firstWornDay),
    endedDay: pairs.map(({ endedDay }) => endedDay ?? NO_END),
    looks: pairs.map(({ asked, answered, settled }) => asked | (answered << 3) | (settled << 6)),
    words: Object.fromEntries(
      WORD_KEYS.map((key) => [key, inWords(pairs.map((pair) => pair[key]))]),
    ) as Record<WordKey, Words>,
    more: pairs.flatMap(({ more }, row) => (more === undefined ? [] : [[row, more] as const])),
  };
}

function inWords(each: readonly Word[]): Words {
  const known = new Map<Word, number>();
  const codes = each.map((word) => {
    const code = known.get(word) ?? known.size;
    known.set(word, code);
    return code;
  });
  return { words: [...known.keys()], codes };
}

/** The summaries of a block one by one, as they went in. */
export function summariesOf(block: SummaryBlock): PairSummary[] {
  const more = new Map(block.more);
  return block.pairId.map((pairId, row) => {
    const word = <T>(key: WordKey): T => block.words[key].words[block.words[key].codes[row]!] as T;
    const looks = block.looks[row]!;
    const ended = block.endedDay[row]!;
    const found = more.get(row);
    return {
      pairId,
      jobId: block.jobId[row]!,
      jobNumber: block.jobNumber[row]!,
      designId: word('designId'),
      labId: word('labId'),
      material: word('material'),
      index: word('index'),
      lightReactiveGrade: word('lightReactiveGrade'),
      wrapClass: word('wrapClass'),
      depthClass: word('depthClass'),
      addBand: word('addBand'),
      firstWearer: word('firstWearer'),
      measuredBy: word('measuredBy'),
      measuredHow: word('measuredHow'),
      soldBy: word('soldBy'),
      handedOverDay: block.handedOverDay[row]!,
      firstWornDay: block.firstWornDay[row]!,
      endedDay: ended === NO_END ? null : ended,
      outcome: word('outcome'),
      reason: word('reason'),
      asked: looks & 7,
      answered: (looks >> 3) & 7,
      settled: (looks >> 6) & 7,
      ...(found === undefined ? {} : { more: found }),
    };
  });
}

import type { Evidence, Reason } from './sorter.ts';
import type { Extent, Label } from './types.ts';

const DISTANCE_OF: Partial<Record<Label, 'far' | 'arm' | 'near'>> = {
  'distance-blur': 'far',
  'near-too-high': 'far',
  'intermediate-blur': 'arm',
  'near-blur': 'near',
  'near-too-low': 'near',
};
const COUNTED: ReadonlyMap<string, number> = new Map(
  'one two three four five six seven eight nine ten'.split(' ').map((word, i) => [word, i + 1] as const),
);
const MOST_TASKS = 6;
const DAYS_PER_WEEK = 7;
const DAYS_PER_FORTNIGHT = 14;
const DAYS_PER_MONTH = 30;

/** How much, which eye, at what distance, at which tasks and since which day, as far as it was said. */
export function extentOf(text: string, evidence: Evidence, held: readonly Reason[]): Extent {
  const { tokens } = evidence.board;
  const kinds = new Set(evidence.extent.map((one) => one.kind));
  const right = kinds.has('right');
  const left = kinds.has('left');
  const eye = kinds.has('bothEyes') ? 'both' : right === left ? undefined : right ? 'R' : 'L';
  const trend = kinds.has('worse')
    ? 'worse'
    : kinds.has('better')
      ? 'better'
      : kinds.has('same')
        ? 'same'
        : undefined;
  const distances = new Set(held.flatMap((reason) => DISTANCE_OF[reason.label] ?? []));
  const troubled = new Set(
    held.flatMap((reason) => (DISTANCE_OF[reason.label] ? reason.used.map((at) => tokens[at]?.clause) : [])),
  );
  const tasks = new Set<string>();
  for (const thing of evidence.things) {
    if (tasks.size >= MOST_TASKS) break;
    if (troubled.has(tokens[thing.start]?.clause) && distances.has(thing.distance))
      tasks.add(text.slice(tokens[thing.start]!.start, tokens[thing.end]!.end).toLowerCase());
  }
  const day = dayOf(evidence);
  return {
    ...(trend === undefined ? {} : { trend }),
    ...(eye === undefined ? {} : { eye }),
    ...(distances.size === 0 ? {} : { distances: [...distances] }),
    ...(tasks.size === 0 ? {} : { tasks: [...tasks] }),
    ...(day === undefined ? {} : { day }),
  };
}

/** Days worn, from "day 9", "3 weeks", "a fortnight". */
function dayOf(evidence: Evidence): number | undefined {
  const { tokens } = evidence.board;
  for (const one of evidence.extent) {
    if (one.kind !== 'day' && one.kind !== 'week') continue;
    const words = tokens.slice(one.start, one.end + 1).map((token) => token.word);
    const count = words.map((word) => COUNTED.get(word) ?? Number.parseInt(word, 10)).find((n) => n > 0) ?? 1;
    if (one.kind === 'day') return count;
    if (words.includes('fortnight')) return DAYS_PER_FORTNIGHT;
    if (words.includes('month') || words.includes('mes')) return DAYS_PER_MONTH;
    return count * DAYS_PER_WEEK;
  }
  return undefined;
}

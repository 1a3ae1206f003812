import { type Cell, type CellProblem, type Cells, shortened } from './cells.ts';
import { type Entry, type Gathered, gatherJobs, lastOf, type RefusedLine } from './gatherJobs.ts';
import { fieldName, type Place, placeOf } from './heads.ts';
import type { IntakeOptions } from './jobFromCells.ts';

export type JsonIntake = Pick<Gathered, 'jobs' | 'refused'> & {
  readonly notes: Pick<Gathered, 'sameLines' | 'neverMessaged' | 'warnings'> & {
    /** Keys that are not known: told and left aside, not guessed. */
    readonly unknownKeys: readonly string[];
  };
};

/**
 * Jobs from JSON: an array, an object with an array `jobs`, one job, or one job a line. The keys are those of
 * quantities.ts (`job_number` or `jobNumber`), flat or under `wearer` and `dates`; what differs by eye is
 * `{"R": …, "L": …}`, a power is `[sphere, cylinder, axis]` or a text, yes and no may be true and false. Entries are
 * counted from 1; with one job a line, the count is the line.
 */
export function readJson(text: string, options: IntakeOptions): JsonIntake {
  const { entries: found, broken } = entriesOf(text);
  const unknown = new Set<string>();
  const refused: RefusedLine[] = [...broken];
  const entries: Entry[] = [];
  for (const { line, value } of found) {
    if (isPlain(value)) {
      const { cells, twice } = cellsOf(value, unknown);
      if (twice === undefined) entries.push({ line, cells });
      else refused.push({ line, problems: [keyTwice(line, twice)] });
    } else
      refused.push({ line, problems: [noJob(line, JSON.stringify(value), 'Each entry must be an object.')] });
  }
  const numbersKept = entries.some(({ cells }) => cells.has('job_number'));
  const { jobs, refused: badJobs, ...notes } = lastOf(gatherJobs(entries, options, 'entry', numbersKept));
  return {
    jobs,
    refused: [...refused, ...badJobs].sort((one, other) => one.line - other.line),
    notes: { ...notes, unknownKeys: [...unknown].slice(0, 100) },
  };
}

type Found = { readonly line: number; readonly value: unknown };

function entriesOf(text: string): { entries: Found[]; broken: RefusedLine[] } {
  const bare = text.replace(/^\ufeff/, '');
  const whole = parsed(bare);
  if (whole.ok) {
    const { value } = whole;
    const list = Array.isArray(value)
      ? value
      : isPlain(value) && Array.isArray(value.jobs)
        ? value.jobs
        : [value];
    return {
      entries: list.map((entry, index) => ({ line: index + 1, value: entry as unknown })),
      broken: [],
    };
  }
  const lines = bare.split(/\r\n|\r|\n/).map((line, index) => ({ line: index + 1, line_text: line.trim() }));
  const filled = lines.filter(({ line_text }) => line_text !== '');
  const read = filled.map(({ line, line_text }) => ({ line, line_text, reading: parsed(line_text) }));
  if (!read.some(({ reading }) => reading.ok && isPlain(reading.value))) {
    return {
      entries: [],
      broken: [{ line: 1, problems: [noJob(1, bare, `This is not JSON: ${whole.why}.`)] }],
    };
  }
  return {
    entries: read.flatMap(({ line, reading }) => (reading.ok ? [{ line, value: reading.value }] : [])),
    broken: read.flatMap(({ line, line_text, reading }) =>
      reading.ok ? [] : [{ line, problems: [noJob(line, line_text, `This is not JSON: ${reading.why}.`)] }],
    ),
  };
}

function parsed(text: string): { ok: true; value: unknown } | { ok: false; why: string } {
  try {
    return { ok: true, value: JSON.parse(text) as unknown };
  } catch (error) {
    return { ok: false, why: error instanceof Error ? shortened(error.message) : 'unreadable' };
  }
}

type Plain = Readonly<Record<string, unknown>>;
const isPlain = (value: unknown): value is Plain =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const GROUPS = new Set(['wearer', 'dates']);

function cellsOf(entry: Plain, unknown: Set<string>): { cells: Cells; twice: string | undefined } {
  const cells = new Map<string, Cell>();
  let twice: string | undefined;
  const put = (place: Place, key: string, value: unknown) => {
    const name = fieldName(place);
    if (cells.has(name)) twice = key;
    cells.set(name, { text: textOf(value), field: name, column: `key “${shortened(key)}”` });
  };
  const take = (key: string, value: unknown): void => {
    if (value === null || value === undefined) return;
    if (GROUPS.has(key) && isPlain(value)) {
      for (const [inner, held] of Object.entries(value)) take(inner, held);
      return;
    }
    if (isPlain(value) && ('R' in value || 'L' in value)) {
      for (const eye of ['R', 'L'] as const) if (eye in value) take(`${key}_${eye}`, value[eye]);
      return;
    }
    const place = placeOf(key);
    if (!place) {
      if (unknown.size < 1000) unknown.add(shortened(key));
    } else if (Array.isArray(value) && place.quantity.kind === 'power' && place.eye && !place.part) {
      const [sphere, cylinder, axis] = value as unknown[];
      put({ ...place, part: 'sphere' }, key, sphere);
      put({ ...place, part: 'cylinder' }, key, cylinder);
      put({ ...place, part: 'axis' }, key, axis);
    } else put(place, key, value);
  };
  for (const [key, value] of Object.entries(entry)) take(key, value);
  return { cells, twice };
}

function textOf(value: unknown): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'string') return value;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return String(value);
  return JSON.stringify(value) ?? '';
}

function noJob(line: number, found: string, what: string): CellProblem {
  return {
    code: 'entry-unread',
    what,
    where: `entry ${line}`,
    mend: 'Write a JSON object with the keys of the template, or an array of such objects.',
    field: '',
    column: 'whole entry',
    found: shortened(found),
    allowed: 'a JSON object',
  };
}

function keyTwice(line: number, key: string): CellProblem {
  return {
    code: 'key-twice',
    what: `Key “${shortened(key)}” says again what another key of this entry says.`,
    where: `entry ${line}`,
    mend: 'Leave one of the two.',
    field: '',
    column: `key “${shortened(key)}”`,
    found: shortened(key),
    allowed: 'each quantity once',
  };
}

import { bareText } from './bareText.ts';
import { type Cell, type CellProblem, type Cells, shortened } from './cells.ts';
import { decodeText } from './decodeText.ts';
import {
  type Entry,
  type Gathered,
  gatherJobs,
  lastOf,
  type Progress,
  type RefusedLine,
} from './gatherJobs.ts';
import { fieldName, placeOf } from './heads.ts';
import type { IntakeOptions } from './jobFromCells.ts';
import { quantityOf } from './quantities.ts';
import { type CsvRecord, splitCsv } from './splitCsv.ts';

type IntakeNotes = {
  /** Lines that held something, without the head. */
  readonly lines: number;
  readonly encoding: string;
  readonly separator: string;
  /** Columns that are not known: told and left aside, not guessed. */
  readonly unknownColumns: readonly string[];
  /** Columns of the short template that the file has not. */
  readonly missingColumns: readonly string[];
} & Pick<Gathered, 'sameLines' | 'neverMessaged' | 'warnings'>;

export type Intake = Pick<Gathered, 'jobs' | 'refused'> & { readonly notes: IntakeNotes };

/**
 * Jobs from a CSV file, by the short template of eight columns, the full template, or any mixture of known columns.
 * Every bad line is told with all its problems; good lines go in. The same text gives the same answer, in time that
 * grows with its length.
 */
export function readCsv(input: string | Uint8Array, options: IntakeOptions): Intake {
  return lastOf(readCsvSteps(input, options));
}

/** As readCsv, in steps: gives after every 500 lines how far it is, so that a server can do other work between. */
export function* readCsvSteps(
  input: string | Uint8Array,
  options: IntakeOptions,
): Generator<Progress, Intake> {
  const decoded =
    typeof input === 'string' ? { text: input.replace(/^\ufeff/, ''), encoding: 'text' } : decodeText(input);
  const { text, firstLine } = withoutSeparatorLine(decoded.text);
  const separator = separatorOf(text);
  const { records, broken } = splitCsv(text, separator);
  const lineOf = (line: number) => line + firstLine - 1;
  const [head, ...lines] = records;
  const columns = readHeads(head?.cells ?? []);
  const basis = { encoding: decoded.encoding, separator };
  const fileProblems = problemsOfHeads(head ? { ...head, line: lineOf(head.line) } : undefined, columns);
  if (fileProblems.length > 0) {
    const nothing = { sameLines: [], neverMessaged: { noContact: 0, noConsent: 0 }, warnings: [] };
    const notes = { ...basis, lines: lines.length + broken.length, ...columnNotes(columns), ...nothing };
    return { jobs: [], refused: [{ line: head ? lineOf(head.line) : 1, problems: fileProblems }], notes };
  }

  const refused: RefusedLine[] = broken.map(({ line, why, text: found }) =>
    brokenLine(lineOf(line), why, found),
  );
  const entries: Entry[] = [];
  for (const record of lines) {
    const line = lineOf(record.line);
    if (record.cells.every((cell) => cell.trim() === '')) continue;
    const surplus = record.cells.findIndex((cell, index) => index >= columns.length && cell.trim() !== '');
    if (surplus < 0) entries.push({ line, cells: cellsOf(record, columns) });
    else refused.push({ line, problems: [tooManyCells(record, line, surplus, columns.length)] });
  }
  const numbersKept = columns.some(({ field }) => field === 'job_number');
  const gathered = yield* gatherJobs(entries, options, 'line', numbersKept);
  const { sameLines, neverMessaged } = gathered;
  const warnings = decoded.note ? [{ line: 1, what: decoded.note }, ...gathered.warnings] : gathered.warnings;
  return {
    jobs: gathered.jobs,
    refused: [...refused, ...gathered.refused].sort((one, other) => one.line - other.line),
    notes: {
      ...basis,
      lines: entries.length + refused.length,
      ...columnNotes(columns),
      sameLines,
      neverMessaged,
      warnings,
    },
  };
}

type Column = { readonly head: string; readonly shown: string; readonly field: string | undefined };

const SEPARATORS = [',', ';', '\t', '|'];

/** Some spreadsheets write a first line "sep=;". */
function withoutSeparatorLine(text: string): { text: string; firstLine: number } {
  const found = /^sep=.\r?\n/i.exec(text);
  return found ? { text: text.slice(found[0].length), firstLine: 2 } : { text, firstLine: 1 };
}

/** The separator under which most heads of the first line that holds something are known. */
function separatorOf(text: string): string {
  const start = text.search(/[^\s\ufeff]/);
  const first = text.slice(Math.max(start, 0), Math.max(start, 0) + 20_000).split(/[\r\n]/, 1)[0] ?? '';
  const scored = SEPARATORS.map((separator) => {
    const heads = splitCsv(first, separator).records[0]?.cells ?? [];
    return { separator, known: heads.filter((head) => placeOf(head) !== undefined).length };
  });
  return scored.reduce((best, next) => (next.known > best.known ? next : best)).separator;
}

function readHeads(heads: readonly string[]): Column[] {
  const columns = heads.map((text, index) => {
    const place = placeOf(text);
    const head = bareText(text);
    return {
      head,
      shown: `column “${shortened(head === '' ? 'no head' : head)}” (${letterOf(index)})`,
      field: place ? fieldName(place) : undefined,
    };
  });
  while (columns.length > 0 && columns.at(-1)!.head === '') columns.pop();
  return columns;
}

function problemsOfHeads(head: CsvRecord | undefined, columns: readonly Column[]): CellProblem[] {
  const place = head ? `line ${head.line}` : 'line 1';
  if (!head || columns.every(({ field }) => field === undefined)) {
    return [
      {
        code: 'heads-missing',
        what: 'The first line holds no column head that is known.',
        where: place,
        mend: 'Begin the file with the heads of the template: job number, name, phone, email, consent, handed over on, lens design, first multifocal.',
        field: '',
        column: 'all columns',
        found: shortened(head?.cells.join(' | ') ?? ''),
        allowed: 'a line of column heads',
      },
    ];
  }
  const problems: CellProblem[] = [];
  for (const field of ['name', 'lens_design']) {
    if (columns.some((column) => column.field === field)) continue;
    const wanted = quantityOf(field)!.head;
    problems.push({
      code: 'column-missing',
      what: `The file has no column “${wanted}”.`,
      where: place,
      mend: `Add a column with the head “${wanted}”.`,
      field,
      column: `column “${wanted}”`,
      found: shortened(columns.map((column) => column.head).join(', ')),
      allowed: 'a column of this name',
    });
  }
  const first = new Map<string, Column>();
  for (const column of columns) {
    if (column.field === undefined) continue;
    const earlier = first.get(column.field);
    if (earlier) {
      problems.push({
        code: 'column-twice',
        what: `${column.shown} means the same as ${earlier.shown}.`,
        where: `${place}, ${column.shown}`,
        mend: 'Leave one of the two, or give one another head.',
        field: column.field,
        column: column.shown,
        found: column.head,
        allowed: 'one column of each kind',
      });
    } else first.set(column.field, column);
  }
  return problems;
}

function cellsOf(record: CsvRecord, columns: readonly Column[]): Cells {
  const cells = new Map<string, Cell>();
  for (let index = 0; index < columns.length; index += 1) {
    const column = columns[index]!;
    if (column.field === undefined) continue;
    cells.set(column.field, { text: record.cells[index] ?? '', field: column.field, column: column.shown });
  }
  return cells;
}

function columnNotes(columns: readonly Column[]) {
  const fields = new Set(columns.map(({ field }) => field));
  return {
    unknownColumns: columns
      .filter(({ field, head }) => field === undefined && head !== '')
      .map(({ head }) => shortened(head)),
    missingColumns: SHORT_FIELDS.filter((field) => !fields.has(field)).map(
      (field) => quantityOf(field)!.head,
    ),
  };
}

const SHORT_FIELDS = [
  'job_number',
  'name',
  'phone',
  'email',
  'consent',
  'handed_over_on',
  'lens_design',
  'first_multifocal',
];

function brokenLine(line: number, why: string, found: string): RefusedLine {
  const problem: CellProblem = {
    code: 'line-broken',
    what: `The line cannot be cut into cells: ${why}.`,
    where: `line ${line}`,
    mend: 'Put the whole cell in quotation marks and double those inside it, or take the stray mark away.',
    field: '',
    column: 'whole line',
    found: shortened(found),
    allowed: 'quotation marks in pairs',
  };
  return { line, problems: [problem] };
}

function tooManyCells(record: CsvRecord, line: number, index: number, most: number): CellProblem {
  const column = `column ${letterOf(index)}`;
  return {
    code: 'too-many-cells',
    what: `The line has a cell beyond the last head.`,
    where: `line ${line}, ${column}`,
    mend: 'Put cells that hold a separator in quotation marks; look whether the line is shifted.',
    field: '',
    column,
    found: shortened(record.cells[index]!),
    allowed: `at most ${most} cells`,
  };
}

/** The letter of a column as spreadsheets count: A to Z, then AA. */
function letterOf(index: number): string {
  const rest = index % 26;
  const letter = String.fromCharCode(65 + rest);
  return index < 26 ? letter : letterOf((index - rest) / 26 - 1) + letter;
}

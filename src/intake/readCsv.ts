import { bareText } from './bareText.ts';
import { type Cell, type CellProblem, type Cells, shortened } from './cells.ts';
import { decodeText } from './decodeText.ts';
import { fieldName, placeOf } from './heads.ts';
import { rowDigest, type ValidJob } from './job.ts';
import { type IntakeOptions, jobFromCells } from './jobFromCells.ts';
import { quantityOf } from './quantities.ts';
import { type CsvRecord, splitCsv } from './splitCsv.ts';

export type JobLine = { readonly line: number; readonly job: ValidJob };
export type RefusedLine = { readonly line: number; readonly problems: readonly CellProblem[] };

export type IntakeNotes = {
  /** Lines that held something, without the head. */
  readonly lines: number;
  readonly encoding: string;
  readonly separator: string;
  /** Lines that say word for word the same job as an earlier line; they change nothing. */
  readonly sameLines: readonly number[];
  readonly neverMessaged: { readonly noContact: number; readonly noConsent: number };
  /** Columns that are not known: told and left aside, not guessed. */
  readonly unknownColumns: readonly string[];
  /** Columns of the short template that the file has not. */
  readonly missingColumns: readonly string[];
  /** What was taken in all the same but deserves a look. */
  readonly warnings: readonly { readonly line: number; readonly what: string }[];
};

export type Intake = {
  readonly jobs: readonly JobLine[];
  readonly refused: readonly RefusedLine[];
  readonly notes: IntakeNotes;
};

/**
 * Jobs from a CSV file, by the short template of eight columns, the full template, or any mixture of known columns.
 * Every bad line is told with all its problems; good lines go in. The same text gives the same answer, in time that
 * grows with its length.
 */
export function readCsv(input: string | Uint8Array, options: IntakeOptions): Intake {
  const decoded =
    typeof input === 'string' ? { text: input.replace(/^\ufeff/, ''), encoding: 'text' } : decodeText(input);
  const { text, firstLine } = withoutSeparatorLine(decoded.text);
  const separator = separatorOf(text);
  const { records, broken } = splitCsv(text, separator);
  const lineOf = (line: number) => line + firstLine - 1;
  const [head, ...lines] = records;
  const columns = readHeads(head?.cells ?? []);
  const basis = { encoding: decoded.encoding, separator, lines: lines.length + broken.length };
  const fileProblems = problemsOfHeads(head ? { ...head, line: lineOf(head.line) } : undefined, columns);
  if (fileProblems.length > 0) {
    const notes = { ...basis, ...nothingNoted(columns) };
    return { jobs: [], refused: [{ line: head ? lineOf(head.line) : 1, problems: fileProblems }], notes };
  }

  const jobs: JobLine[] = [];
  const refused: RefusedLine[] = broken.map(({ line, why, text: found }) =>
    brokenLine(lineOf(line), why, found),
  );
  const sameLines: number[] = [];
  const warnings: { line: number; what: string }[] = [];
  if (decoded.note) warnings.push({ line: 1, what: decoded.note });
  const seen = new Map<string, { line: number; digest: string }>();
  const numbersKept = columns.some(({ field }) => field === 'job_number');
  const neverMessaged = { noContact: 0, noConsent: 0 };

  for (const record of lines) {
    const line = lineOf(record.line);
    if (record.cells.every((cell) => cell.trim() === '')) continue;
    const where = `line ${line}`;
    const surplus = record.cells.findIndex((cell, index) => index >= columns.length && cell.trim() !== '');
    if (surplus >= 0) {
      refused.push({ line, problems: [tooManyCells(record, line, surplus, columns.length)] });
      continue;
    }
    const reading = jobFromCells(cellsOf(record, columns), options, where, numbersKept);
    if (!reading.ok) {
      refused.push({ line, problems: reading.problems });
      continue;
    }
    const { job } = reading.value;
    const digest = rowDigest(job);
    const earlier = seen.get(job.jobNumber);
    if (earlier) {
      if (earlier.digest === digest) sameLines.push(line);
      else refused.push({ line, problems: [numberTwice(job, line, earlier.line, columns)] });
      continue;
    }
    seen.set(job.jobNumber, { line, digest });
    jobs.push({ line, job });
    for (const what of reading.value.warnings) warnings.push({ line, what });
    if (job.neverMessaged === 'no contact') neverMessaged.noContact += 1;
    if (job.neverMessaged === 'no consent') neverMessaged.noConsent += 1;
  }
  refused.sort((one, other) => one.line - other.line);
  const notes = { ...basis, ...nothingNoted(columns), sameLines, neverMessaged, warnings };
  return { jobs, refused, notes };
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
    if (column.field !== undefined)
      cells.set(column.field, { text: record.cells[index] ?? '', column: column.shown });
  }
  return cells;
}

function nothingNoted(columns: readonly Column[]) {
  const fields = new Set(columns.map(({ field }) => field));
  return {
    sameLines: [] as readonly number[],
    neverMessaged: { noContact: 0, noConsent: 0 },
    warnings: [] as readonly { line: number; what: string }[],
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
    column,
    found: shortened(record.cells[index]!),
    allowed: `at most ${most} cells`,
  };
}

function numberTwice(job: ValidJob, line: number, earlier: number, columns: readonly Column[]): CellProblem {
  const column = columns.find(({ field }) => field === 'job_number')?.shown ?? 'column “job number”';
  return {
    code: 'job-number-twice',
    what: `Job number “${shortened(job.jobNumber)}” stands already in line ${earlier}, with other values.`,
    where: `line ${line}, ${column}`,
    mend: 'Give each job its own number, or leave one of the two lines.',
    column,
    found: shortened(job.jobNumber),
    allowed: 'a job number that stands once in the file',
  };
}

/** The letter of a column as spreadsheets count: A to Z, then AA. */
function letterOf(index: number): string {
  const rest = index % 26;
  const letter = String.fromCharCode(65 + rest);
  return index < 26 ? letter : letterOf((index - rest) / 26 - 1) + letter;
}

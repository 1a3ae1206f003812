export type CsvRecord = {
  /** Line of the file on which the record begins, the first being 1. */
  readonly line: number;
  readonly cells: readonly string[];
};
type BrokenLine = {
  readonly line: number;
  readonly why: 'quote not closed' | 'text after a quote';
  readonly text: string;
};
export type CsvRecords = { readonly records: readonly CsvRecord[]; readonly broken: readonly BrokenLine[] };

const LONGEST_QUOTED = 10_000;

/**
 * Cuts CSV text into records (RFC 4180; line ends CRLF, LF or CR; cells in quotes may hold separators and line ends).
 * A stray quotation mark spoils its own line only: that line is given back as broken and reading goes on at the next,
 * which is why this is not left to a general parser. Time grows with the length of the text.
 */
export function splitCsv(text: string, separator: string): CsvRecords {
  const records: CsvRecord[] = [];
  const broken: BrokenLine[] = [];
  let at = 0;
  let line = 1;
  while (at < text.length) {
    const cut = cutRecord(text, at, separator);
    if (cut.why === undefined) {
      if (cut.cells.length > 1 || cut.cells[0]!.trim() !== '') records.push({ line, cells: cut.cells });
      line += cut.lines;
      at = cut.next;
      continue;
    }
    const end = endOfLine(text, at);
    broken.push({ line, why: cut.why, text: text.slice(at, Math.min(end, at + 60)) });
    at = afterLineEnd(text, end);
    line += 1;
  }
  return { records, broken };
}

type Cut =
  | { readonly why: undefined; readonly cells: string[]; readonly next: number; readonly lines: number }
  | { readonly why: BrokenLine['why'] };

function cutRecord(text: string, start: number, separator: string): Cut {
  const cells: string[] = [];
  let at = start;
  let lines = 1;
  for (;;) {
    let begin = at;
    while (text[begin] === ' ') begin += 1;
    if (text[begin] === '"') {
      const quoted = cutQuoted(text, begin + 1);
      if (!quoted) return { why: 'quote not closed' };
      cells.push(quoted.value);
      lines += quoted.lineEnds;
      at = quoted.next;
      while (text[at] === ' ') at += 1;
    } else {
      while (at < text.length && text[at] !== separator && text[at] !== '\n' && text[at] !== '\r') at += 1;
      cells.push(text.slice(begin, at).trimEnd());
    }
    if (at >= text.length) return { why: undefined, cells, next: at, lines };
    if (text[at] === separator) {
      at += 1;
      continue;
    }
    if (text[at] === '\n' || text[at] === '\r')
      return { why: undefined, cells, next: afterLineEnd(text, at), lines };
    return { why: 'text after a quote' };
  }
}

function cutQuoted(
  text: string,
  start: number,
): { value: string; next: number; lineEnds: number } | undefined {
  let value = '';
  let from = start;
  for (;;) {
    const quote = text.indexOf('"', from);
    if (quote < 0 || quote - start > LONGEST_QUOTED) return undefined;
    if (text[quote + 1] !== '"') {
      value += text.slice(from, quote);
      const lineEnds = value.match(/\r\n|\r|\n/g)?.length ?? 0;
      return { value, next: quote + 1, lineEnds };
    }
    value += text.slice(from, quote + 1);
    from = quote + 2;
  }
}

function endOfLine(text: string, from: number): number {
  for (let at = from; at < text.length; at += 1) if (text[at] === '\n' || text[at] === '\r') return at;
  return text.length;
}

const afterLineEnd = (text: string, at: number) =>
  text[at] === '\r' && text[at + 1] === '\n' ? at + 2 : at + 1;

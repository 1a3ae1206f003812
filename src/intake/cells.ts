import type { Problem } from '../problems.ts';

/** What stood in one cell of a file or form: its text, its field name, and how its place is told to a person. */
export type Cell = { readonly text: string; readonly field: string; readonly column: string };

/** Cells by field name: the key of a quantity, with _R or _L for one eye, and _sphere, _cylinder, _axis for a part. */
export type Cells = ReadonlyMap<string, Cell>;

/** A problem of one cell: besides what is wrong and how to mend it, the column, what was found and what is allowed. */
export type CellProblem = Problem & {
  /** Field name of quantities.ts with eye and part; empty where the whole line is meant. */
  readonly field: string;
  readonly column: string;
  readonly found: string;
  readonly allowed: string;
};

/** What is wrong with a text, before it is known in which cell of which line it stands. */
export type Refusal = {
  readonly code: string;
  readonly what: string;
  readonly allowed: string;
  readonly mend: string;
};

export type Reading<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly refusal: Refusal };

export const read = <T>(value: T): Reading<T> => ({ ok: true, value });
export const refused = (code: string, what: string, allowed: string, mend: string): Reading<never> => ({
  ok: false,
  refusal: { code, what, allowed, mend },
});

/** A problem that says where it stands. `where` names the line or form, the column is added. */
export function cellProblem(refusal: Refusal, cell: Cell, where: string): CellProblem {
  return {
    code: refusal.code,
    what: refusal.what,
    where: where === '' ? cell.column : `${where}, ${cell.column}`,
    mend: refusal.mend,
    field: cell.field,
    column: cell.column,
    found: shortened(cell.text),
    allowed: refusal.allowed,
  };
}

/** At most 60 characters, with signs that cannot be seen made visible. */
export function shortened(text: string): string {
  const visible = text.replace(/\p{Cc}/gu, '␣');
  return visible.length > 60 ? `${visible.slice(0, 60)}…` : visible;
}

import { readFileSync } from 'node:fs';

export type CheckRow = {
  readonly id: string;
  readonly topic: string;
  readonly given: Record<string, unknown>;
  readonly expect: Record<string, unknown>;
  readonly tolerance?: Record<string, number>;
  readonly source: string;
};

/** The rows of one topic of a check file; values from outside, each with its source. */
export function checkRows(file: 'optics' | 'messaging', topic: string): CheckRow[] {
  const text = readFileSync(new URL(`../checks/${file}.json`, import.meta.url), 'utf8');
  const held = JSON.parse(text) as CheckRow[] | { checks?: CheckRow[]; rows?: CheckRow[] };
  const rows = Array.isArray(held) ? held : (held.checks ?? held.rows ?? []);
  return rows.filter((row) => row.topic === topic);
}

import { type Insertable, sql } from 'kysely';
import type { Trx } from './database.ts';
import type { Tables } from './tables.ts';

/**
 * Inserts rows that all have the same columns, passed as one value: a parameter for each value costs more than the rows
 * themselves, and there may be no more than 65,535. Columns of `json` hold text that is JSON already.
 */
export async function insertMany<Name extends keyof Tables & string>(
  trx: Trx,
  table: Name,
  rows: readonly Insertable<Tables[Name]>[],
  { json = [], unlessThere = false }: { json?: readonly string[]; unlessThere?: boolean } = {},
): Promise<void> {
  if (rows.length === 0) return;
  const columns = Object.keys(rows[0]!);
  const values = columns.map((column) =>
    json.includes(column) ? sql`(v.${sql.ref(column)} #>> '{}')::jsonb` : sql`v.${sql.ref(column)}`,
  );
  await sql`insert into ${sql.table(table)} (${sql.join(columns.map((column) => sql.ref(column)))})
    select ${sql.join(values)} from json_populate_recordset(null::${sql.table(table)}, ${JSON.stringify(rows)}::json) v
    ${sql.raw(unlessThere ? 'on conflict do nothing' : '')}`.execute(trx);
}

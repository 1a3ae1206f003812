import type { Migration } from 'kysely';
import * as records from './0001_records.ts';

/** Forward only and never edited once landed: a change to the schema is a new number. */
export const migrations: Readonly<Record<string, Migration>> = {
  '0001_records': records,
};

import type { Migration } from 'kysely';
import * as records from './0001_records.ts';
import * as ringList from './0002_ring_list.ts';
import * as alarm from './0003_alarm.ts';

/** Forward only and never edited once landed: a change to the schema is a new number. */
export const migrations: Readonly<Record<string, Migration>> = {
  '0001_records': records,
  '0002_ring_list': ringList,
  '0003_alarm': alarm,
};

import { sql } from 'kysely';
import pg from 'pg';
import { takeJobs } from '../../src/followup/takeJobs.ts';
import type { Ground } from './ground.ts';
import { benchJobs, openBenchShop } from './people.ts';
import { type BenchRow, secondsOf } from './row.ts';

const JOBS = { server: 100_000, embedded: 10_000 } as const;
const SHOP = 'bench';
const TABLES = [
  'wearer',
  'contact_point',
  'wearer_contact',
  'consent_event',
  'job',
  'fact',
  'pair',
  'plan',
  'check_in',
];

/** Jobs taken in, beside the same rows copied by the database itself into tables with the same keys and indexes. */
export async function benchImporting(ground: Ground): Promise<BenchRow[]> {
  const shell = await openBenchShop(ground.database, SHOP);
  const count = JOBS[ground.on];
  const jobs = benchJobs(0, count, '2026-03-15');
  const ours = await secondsOf(() => takeJobs(shell, SHOP, jobs, 'bench'));
  const theirs = ground.url === undefined ? undefined : await secondsToCopy(ground.url);
  return [
    {
      what: `${count.toLocaleString('en-GB')} jobs taken in`,
      on: ground.on,
      beside: theirs === undefined ? '–' : 'the same rows copied',
      unit: 's',
      ours: [ours],
      theirs: theirs === undefined ? [] : [theirs],
      goal: theirs === undefined ? { of: 'figure', most: 60 } : { of: 'ratio', most: 3 },
    },
  ];

  /** Written out and read back by `COPY` on the server's own disk, timed for the reading back alone. */
  async function secondsToCopy(url: string): Promise<number> {
    const client = new pg.Client({ connectionString: url });
    await client.connect();
    try {
      let seconds = 0;
      for (const table of TABLES) {
        await client.query(`create table beside_${table} (like ${table} including all)`);
        const file = (await client.query('select current_setting($1) as folder', ['data_directory'])).rows[0]
          .folder;
        await client.query(`copy ${table} to '${file}/beside_${table}' (format binary)`);
        seconds += await secondsOf(() =>
          client.query(`copy beside_${table} from '${file}/beside_${table}' (format binary)`),
        );
      }
      return seconds;
    } finally {
      await client.end();
      await sql`select 1`.execute(ground.database.db);
    }
  }
}

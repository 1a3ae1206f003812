import { randomBytes } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { type Database, migrate, openEmbedded, openServer } from '../../src/store/database.ts';
import { named } from '../setup/global.ts';

/** Where a measurement is taken: a fresh, migrated database of its own. */
export type Ground = {
  readonly on: 'server' | 'embedded';
  readonly database: Database;
  /** Address of the same database for what stands beside; none for the embedded one. */
  readonly url: string | undefined;
  close(): Promise<void>;
};

/** A database of its own on the server of this run. */
export async function serverGround(base: string): Promise<Ground> {
  const name = `bench_${randomBytes(4).toString('hex')}`;
  await asAdministrator(base, `create database ${name}`);
  const url = named(base, name);
  const database = openServer(url);
  await migrate(database.db);
  return {
    on: 'server',
    database,
    url,
    async close() {
      await database.close();
      await asAdministrator(base, `drop database if exists ${name} with (force)`);
    },
  };
}

/** The embedded database in a folder, as a small shop runs it. */
export async function embeddedGround(): Promise<Ground> {
  const folder = mkdtempSync(join(tmpdir(), 'afterfit-bench-'));
  const database = await openEmbedded(join(folder, 'database'));
  await migrate(database.db);
  return {
    on: 'embedded',
    database,
    url: undefined,
    async close() {
      await database.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function asAdministrator(base: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: base });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}

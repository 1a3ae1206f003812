import { mkdir } from 'node:fs/promises';
import { Kysely, type MigrationResultSet, Migrator, PostgresDialect, type Transaction } from 'kysely';
import pg from 'pg';
import { migrations } from '../../migrations/index.ts';
import type { Tables } from './tables.ts';

export type Db = Kysely<Tables>;
export type Trx = Transaction<Tables>;

export type Database = {
  readonly db: Db;
  readonly kind: 'embedded' | 'server';
  close(): Promise<void>;
};

const DATE = 1082;
const INT8 = 20;
const NUMERIC = 1700;

/** Calendar days stay text (a Date would be shifted by the process's zone); counts and millimetres become numbers. */
export const pgTypes = {
  getTypeParser(oid: number, format?: 'text' | 'binary') {
    if (oid === DATE) return (text: string) => text;
    if (oid === INT8 || oid === NUMERIC) return (text: string) => Number(text);
    return pg.types.getTypeParser(oid, format);
  },
};

/** PostgreSQL in this process (PGlite), in `folder`, or in memory without one. The folder must be locked by the caller. */
export async function openEmbedded(folder?: string): Promise<Database> {
  const { PGlite } = await import('@electric-sql/pglite');
  const { createPgConfig } = await import('@electric-sql/pglite/node-postgres');
  if (folder) await mkdir(folder, { recursive: true, mode: 0o700 });
  const engine = await PGlite.create(folder ? { dataDir: folder } : {});
  const pool = new pg.Pool({ ...createPgConfig(engine), types: pgTypes });
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  return {
    db,
    kind: 'embedded',
    async close() {
      await db.destroy();
      await engine.close();
    },
  };
}

/** A PostgreSQL server by its address. A dropped idle connection is reported to `onTrouble` and replaced. */
export function openServer(url: string, onTrouble: (error: Error) => void = () => {}): Database {
  const pool = new pg.Pool({ connectionString: url, max: 10, types: pgTypes, options: '-c timezone=UTC' });
  pool.on('error', onTrouble);
  pool.on('connect', (client) => client.on('error', onTrouble));
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  return { db, kind: 'server', close: () => db.destroy() };
}

export async function migrate(db: Db): Promise<MigrationResultSet> {
  const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...migrations }) } });
  const done = await migrator.migrateToLatest();
  if (done.error) throw done.error;
  return done;
}

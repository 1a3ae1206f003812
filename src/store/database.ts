import { mkdir } from 'node:fs/promises';
import { Kysely, type MigrationResultSet, Migrator, PostgresDialect, sql, type Transaction } from 'kysely';
import pg from 'pg';
import { migrations } from '../../migrations/index.ts';
import { raiseShopWalls, WORKING_ROLE } from '../../migrations/shopWalls.ts';
import { keptPlans } from './keptPlans.ts';
import { engineGate, handles, walledPool } from './shopWall.ts';
import type { Tables } from './tables.ts';

export type Db = Kysely<Tables>;
export type Trx = Transaction<Tables>;

export type Database = {
  /** The owner's handle, outside the walls between shops: schema, filling, backup. Nothing else works by it. */
  readonly db: Db;
  /** A handle to one shop: the database itself refuses it the rows of every other. */
  inShop(shopId: string): Db;
  /** A handle without a shop: only the doors of `shopDoors.ts` answer it. */
  readonly outside: Db;
  readonly kind: 'embedded' | 'server';
  /** Embedded only: while `work` runs, each statement is planned once. For playing weeks in seconds. */
  keepPlans?<T>(work: () => Promise<T>): Promise<T>;
  /** Embedded only: counts its tables anew. The engine has nothing that does so by itself, and plans badly without. */
  takeStock?(): Promise<void>;
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
  const plans = keptPlans();
  const pool = new pg.Pool({ ...createPgConfig(engine), types: pgTypes, Client: plans.Client });
  const gate = engineGate(pool);
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool: gate(undefined) }) });
  const inShop = handles(gate, WORKING_ROLE);
  return {
    db,
    inShop,
    outside: inShop(undefined),
    kind: 'embedded',
    async takeStock() {
      await sql`analyze`.execute(db);
    },
    keepPlans: (work) => plans.during(work, (statements) => engine.exec(statements)),
    async close() {
      await db.destroy();
      await pool.end();
      await engine.close();
    },
  };
}

/** A process that is stopped amid a transaction must not hold the others up for long. */
const OPTIONS = '-c timezone=UTC -c idle_in_transaction_session_timeout=30s -c lock_timeout=15s';

export type ServerSettings = {
  /** The role that works for shops; the user of the address must be allowed to take it. */
  readonly role?: string | undefined;
  /** Address with the sign-in of the tables' owner, where the other one may only work for shops. */
  readonly ownerUrl?: string | undefined;
};

/** A PostgreSQL server by its address. A dropped idle connection is reported to `onTrouble` and replaced. */
export function openServer(
  url: string,
  onTrouble: (error: Error) => void = () => {},
  { role = WORKING_ROLE, ownerUrl = url }: ServerSettings = {},
): Database {
  const listen = (pool: pg.Pool): pg.Pool => {
    pool.on('error', onTrouble);
    pool.on('connect', (client) => client.on('error', onTrouble));
    return pool;
  };
  const owners = listen(
    new pg.Pool({
      connectionString: ownerUrl,
      max: 10,
      types: pgTypes,
      options: '-c timezone=UTC -c app.maintenance=on',
    }),
  );
  const working = listen(
    new pg.Pool({
      connectionString: url,
      max: 10,
      types: pgTypes,
      options: OPTIONS,
      pipeline: true,
      connectionTimeoutMillis: 5_000,
      // A database that stands still answers nobody: the page is told so, and the connection is thrown away.
      query_timeout: 30_000,
      keepAlive: true,
    }),
  );
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool: owners }) });
  const inShop = handles((wall) => walledPool(working, wall), role);
  return {
    db,
    inShop,
    outside: inShop(undefined),
    kind: 'server',
    async close() {
      await db.destroy();
      await working.end();
    },
  };
}

/** Brings the schema up to date and puts every table behind the walls between shops. */
export async function migrate(db: Db, role?: string): Promise<MigrationResultSet> {
  const migrator = new Migrator({
    db,
    provider: { getMigrations: async () => ({ ...migrations }) },
    // Two branches may land in either order.
    allowUnorderedMigrations: true,
  });
  const done = await migrator.migrateToLatest();
  if (done.error) throw done.error;
  await raiseShopWalls(db as Kysely<unknown>, role);
  return done;
}

import { createHash } from 'node:crypto';
import { Migrator, sql } from 'kysely';
import { DERIVED_TABLES } from '../../migrations/0010_review_blocks.ts';
import { migrations } from '../../migrations/index.ts';
import { TABLES_WITHOUT_SHOP } from '../../migrations/shopWalls.ts';
import { type Db, migrate, type Trx } from './database.ts';
import { allShopIds } from './shopDoors.ts';

/**
 * A copy of all records as lines of text, the same from the embedded database and from a server, so that either can be filled
 * from it: a head, then each table after the tables that it refers to, its rows as JSON, its count and its sum.
 */
type Head = {
  readonly 'afterfit dump': 1;
  readonly at: string;
  readonly kind: 'own' | 'invented';
  readonly migrations: readonly string[];
};

/** Rows of a table and a sum over them that does not depend on their order: SHA-256 of each, added modulo 2^256. */
export type Tally = { readonly rows: number; readonly sum: string };
export type Tallies = ReadonlyMap<string, Tally>;

/** A copy that cannot be used: damaged, cut off, or of a newer program. The words are for whoever asked. */
export class DumpRefused extends Error {}

const ROWS_AT_ONCE = 500;
const LETTERS_AT_ONCE = 1_000_000;

/**
 * The lines of a copy, all read in one snapshot while others go on working; the embedded database has one connection, so there
 * they wait. `told` gets what was in each table.
 */
export async function* dumpOf(
  db: Db,
  at: Date,
  kind: Head['kind'],
  told: Map<string, Tally>,
): AsyncGenerator<string> {
  const trx = await db.startTransaction().setIsolationLevel('repeatable read').execute();
  try {
    const head: Head = {
      'afterfit dump': 1,
      at: at.toISOString(),
      kind,
      migrations: await migrationsOf(trx),
    };
    yield `${JSON.stringify(head)}\n`;
    for (const { name } of await tablesInOrder(trx)) {
      yield `T ${name}\n`;
      const sum = tallying();
      for await (const rows of rowsOf(trx, name)) {
        for (const row of rows) sum.add(row);
        yield `${rows.join('\n')}\n`;
      }
      told.set(name, sum.tally());
      yield `E ${sum.tally().rows} ${sum.tally().sum}\n`;
    }
    yield 'Z\n';
  } finally {
    await trx.rollback().execute();
  }
}

/** What is in each table now, by the same counts and sums as a copy has. */
async function talliesOf(db: Db): Promise<Tallies> {
  const told = new Map<string, Tally>();
  for await (const _line of dumpOf(db, new Date(0), 'own', told)) {
    // Only the sums are wanted.
  }
  return told;
}

/** An owner behind the walls would see nothing and take that for everything. */
export async function refuseHalfSeen(db: Db): Promise<void> {
  const shops = (await allShopIds(db)).length;
  const found = await sql<{ seen: number }>`select count(*) as seen from shop`.execute(db);
  const seen = found.rows[0]!.seen;
  if (seen !== shops) {
    throw new DumpRefused(
      `Only ${seen} of ${shops} shops are seen: DATABASE_OWNER_URL must sign in as the owner of the tables.`,
    );
  }
}

/** The first table in which two sets of tallies differ, in words; undefined when they are the same. */
function differenceOf(one: Tallies, other: Tallies): string | undefined {
  for (const name of new Set([...one.keys(), ...other.keys()])) {
    const [left, right] = [one.get(name), other.get(name)];
    if (left?.rows !== right?.rows) return `${name}: ${left?.rows ?? 0} rows here, ${right?.rows ?? 0} there`;
    if (left?.sum !== right?.sum) return `${name}: rows differ`;
  }
  return undefined;
}

type Loaded = { readonly kind: Head['kind']; readonly at: string; readonly tallies: Tallies };

/**
 * Fills an empty database from a copy: the schema as it was then, the rows in one transaction, then the schema as it is now. Every
 * table's count and sum is checked on the way in and read back; a copy that is cut off or changed puts no row in.
 */
export async function loadDump(db: Db, lines: AsyncIterable<string>, role?: string): Promise<Loaded> {
  const copy = await openCopy(lines);
  if (await hasTables(db)) throw new DumpRefused('The database is not empty: nothing was changed.');
  await migrateLike(db, copy.head.migrations);
  const loaded = await db
    .transaction()
    .execute((trx) => copy.rest((name, rows) => insertRows(trx, name, rows)));
  const differs = differenceOf(loaded.tallies, await talliesOf(db));
  if (differs !== undefined) throw new DumpRefused(`What was put in is not what came out: ${differs}.`);
  await migrate(db, role);
  return loaded;
}

/** Reads a copy to its end and checks it, without a database. */
export async function checkDump(lines: AsyncIterable<string>): Promise<Loaded> {
  return (await openCopy(lines)).rest(async () => {});
}

type Put = (table: string, rows: readonly string[]) => Promise<void>;

async function openCopy(lines: AsyncIterable<string>) {
  const reading = lines[Symbol.asyncIterator]();
  const next = async (): Promise<string> => {
    const step = await reading.next();
    if (step.done) throw new DumpRefused('The copy is cut off.');
    return step.value;
  };
  const head = readHead(await next());
  const rest = async (put: Put): Promise<Loaded> => {
    const tallies = new Map<string, Tally>();
    for (let line = await next(); line !== 'Z'; line = await next()) {
      const name = /^T ([a-z_]+)$/.exec(line)?.[1];
      if (name === undefined) throw new DumpRefused('The copy is damaged: no table where one should begin.');
      tallies.set(name, await readTable(name, next, put));
    }
    await reading.return?.(undefined);
    return { kind: head.kind, at: head.at, tallies };
  };
  return { head, rest };
}

async function readTable(name: string, next: () => Promise<string>, put: Put): Promise<Tally> {
  const sum = tallying();
  let batch: string[] = [];
  let letters = 0;
  for (;;) {
    const line = await next();
    const isRow = line.startsWith('{');
    if (batch.length > 0 && (!isRow || batch.length >= ROWS_AT_ONCE || letters >= LETTERS_AT_ONCE)) {
      await put(name, batch);
      batch = [];
      letters = 0;
    }
    if (!isRow) {
      const { rows, sum: found } = sum.tally();
      if (line !== `E ${rows} ${found}`) throw new DumpRefused(`The copy is damaged in the table ${name}.`);
      return sum.tally();
    }
    sum.add(line);
    batch.push(line);
    letters += line.length;
  }
}

async function insertRows(trx: Trx, name: string, rows: readonly string[]): Promise<void> {
  await sql`insert into ${sql.table(name)}
    select * from jsonb_populate_recordset(null::${sql.table(name)}, ${`[${rows.join(',')}]`}::jsonb)`.execute(
    trx,
  );
}

function readHead(line: string): Head {
  let head: Head;
  try {
    head = JSON.parse(line) as Head;
  } catch {
    throw new DumpRefused('This is no copy of Afterfit.');
  }
  if (head['afterfit dump'] !== 1) throw new DumpRefused('This is no copy of Afterfit.');
  const unknown = head.migrations.filter((name) => !(name in migrations));
  if (unknown.length > 0) {
    throw new DumpRefused(`The copy is of a newer Afterfit (${unknown.at(-1)}): install that one first.`);
  }
  return head;
}

/** Brings an empty database to the schema that a copy was taken from. */
async function migrateLike(db: Db, names: readonly string[]): Promise<void> {
  const then = Object.fromEntries(Object.entries(migrations).filter(([name]) => names.includes(name)));
  const migrator = new Migrator({ db, provider: { getMigrations: async () => then } });
  const done = await migrator.migrateToLatest();
  if (done.error) throw done.error;
}

async function migrationsOf(db: Db): Promise<string[]> {
  const found = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(db);
  return found.rows.map((row) => row.name);
}

/** Whether a database has anything of ours, or of anyone's, in it. */
export async function hasTables(db: Db): Promise<boolean> {
  const found = await sql<{ count: number }>`
    select count(*) as count from pg_class
    where relkind in ('r', 'p') and relnamespace = 'public'::regnamespace`.execute(db);
  return found.rows[0]!.count > 0;
}

/** Tables of shops, each behind all that it refers to; what is worked out from others fills again by itself. */
export async function tablesInOrder(db: Db): Promise<{ name: string }[]> {
  const found = await sql<{ name: string; needs: string[] }>`
    select c.relname as name, array(
      select distinct t.relname::text from pg_constraint f join pg_class t on t.oid = f.confrelid
      where f.contype = 'f' and f.conrelid = c.oid and f.confrelid <> c.oid) as needs
    from pg_class c
    where c.relkind in ('r', 'p') and c.relnamespace = 'public'::regnamespace
      and not (c.relname = any (${[...TABLES_WITHOUT_SHOP, ...DERIVED_TABLES]}))
    order by c.relname`.execute(db);
  const placed = new Set<string>();
  const ordered: { name: string }[] = [];
  while (ordered.length < found.rows.length) {
    const free = found.rows.filter(
      (one) => !placed.has(one.name) && one.needs.every((need) => placed.has(need)),
    );
    if (free.length === 0) throw new Error('tables refer to one another in a ring');
    for (const { name } of free) {
      placed.add(name);
      ordered.push({ name });
    }
  }
  return ordered;
}

/** A table's rows as JSON text, a few hundred at a time. */
async function* rowsOf(trx: Db, name: string): AsyncGenerator<string[]> {
  await sql`declare dumped no scroll cursor for
    select to_jsonb(t)::text as row from ${sql.table(name)} t`.execute(trx);
  for (;;) {
    const found = await sql<{ row: string }>`fetch ${sql.raw(String(ROWS_AT_ONCE))} from dumped`.execute(trx);
    if (found.rows.length === 0) break;
    yield found.rows.map((one) => one.row);
  }
  await sql`close dumped`.execute(trx);
}

function tallying() {
  let rows = 0;
  let sum = 0n;
  return {
    add(row: string) {
      rows += 1;
      sum = BigInt.asUintN(256, sum + BigInt(`0x${createHash('sha256').update(row).digest('hex')}`));
    },
    tally: (): Tally => ({ rows, sum: sum.toString(16) }),
  };
}

import { Kysely, PostgresDialect, type PostgresPool, type PostgresPoolClient, sql } from 'kysely';
import pg from 'pg';
import { WallRefused } from '../../migrations/shopWalls.ts';
import type { Tables } from './tables.ts';

/** As whom and for which shop a handle works; without a shop only the doors answer. */
export type Wall = { readonly role: string; readonly shopId: string | undefined };

/**
 * The server's pool behind one shop's wall. Role and shop are set with each transaction and end with it, so nothing is left on a
 * connection for whoever has it next, be it by a pooler in between. They ride in the message that begins the transaction,
 * and a statement outside of one is sent with its own begin and commit in one go: no extra round trip.
 */
export function walledPool(pool: pg.Pool, wall: Wall): PostgresPool {
  const enter = `select set_config('role', ${pg.escapeLiteral(wall.role)}, true), set_config('app.shop_id', ${pg.escapeLiteral(wall.shopId ?? '')}, true)`;
  const known = new WeakMap<pg.PoolClient, PostgresPoolClient>();
  return {
    async connect() {
      const client = await pool.connect();
      const made = known.get(client) ?? walledClient(client, enter);
      known.set(client, made);
      return made;
    },
    async end() {},
  };
}

function walledClient(client: pg.PoolClient, enter: string): PostgresPoolClient {
  let begun: Promise<unknown> | undefined;
  const query = async (text: string, values: unknown[]): Promise<unknown> => {
    if (/^(begin|start transaction)\b/.test(text)) {
      // Not waited for: the first statement follows at once, and what failed here is told with it.
      begun = client.query(`${text}; ${enter}`);
      begun.catch(() => {});
      return { command: 'BEGIN', rowCount: null, rows: [] };
    }
    if (begun) {
      const inside = await inOrder([begun, client.query(text, values)]);
      if (text === 'commit' || text === 'rollback') begun = undefined;
      return inside[1];
    }
    const alone = [client.query(`begin; ${enter}`), client.query(text, values), client.query('commit')];
    return (await inOrder(alone))[1];
  };
  return {
    query,
    release(error?: boolean) {
      // Whoever lets go in the middle of a transaction must not hand it on.
      client.release(error || begun !== undefined);
      begun = undefined;
    },
  } as unknown as PostgresPoolClient;
}

/** Waits for all, then fails with what failed first, since what follows it fails for no reason of its own. */
async function inOrder(steps: readonly Promise<unknown>[]): Promise<unknown[]> {
  const ended = await Promise.allSettled(steps);
  return ended.map((step) => {
    if (step.status === 'rejected') throw step.reason;
    return step.value;
  });
}

/**
 * The embedded engine's one connection, shared by handles on both sides of the wall: role and shop are set when it changes
 * hands and stay until it does again. `undefined` stands for the owner.
 */
export function engineGate(pool: pg.Pool): (wall: Wall | undefined) => PostgresPool {
  let standing = '';
  return (wall) => {
    const wanted = wall ? `${wall.role} ${wall.shopId ?? ''}` : '';
    return {
      async connect() {
        const client = await pool.connect();
        if (standing === wanted) return client as PostgresPoolClient;
        try {
          standing = 'neither';
          await client.query("select set_config('role', $1, false), set_config('app.shop_id', $2, false)", [
            wall?.role ?? 'none',
            wall?.shopId ?? '',
          ]);
          standing = wanted;
        } catch (error) {
          client.release(true);
          throw error;
        }
        return client as PostgresPoolClient;
      },
      async end() {},
    };
  };
}

/** One handle a wall, made when it is first asked for. */
export function handles(poolOf: (wall: Wall) => PostgresPool, role: string) {
  const made = new Map<string | undefined, Kysely<Tables>>();
  return (shopId: string | undefined): Kysely<Tables> => {
    const db =
      made.get(shopId) ??
      new Kysely<Tables>({ dialect: new PostgresDialect({ pool: poolOf({ role, shopId }) }) });
    made.set(shopId, db);
    return db;
  };
}

/** Makes sure that a handle stands behind the wall: a pooler or a setting may let it slip past unseen. */
export async function checkWall(outside: Kysely<Tables>): Promise<void> {
  const found = await sql<{ name: string; passes: boolean; rows: number }>`
    select current_user as name, r.rolsuper or r.rolbypassrls as passes, (select count(*) from shop) as rows
    from pg_roles r where r.rolname = current_user`.execute(outside);
  const now = found.rows[0];
  if (!now || now.passes || now.rows > 0) {
    throw new WallRefused(
      `The database lets “${now?.name ?? 'this user'}” see rows of every shop. Check AFTERFIT_DATABASE_ROLE.`,
    );
  }
}

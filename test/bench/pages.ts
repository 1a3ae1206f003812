import { sql } from 'kysely';
import type { Room } from '../../src/house.ts';
import { silentLog } from '../../src/log.ts';
import { createApp } from '../../src/web/app.tsx';
import type { Ground } from './ground.ts';
import { benchJobs, openBenchShop, takeBenchJobs } from './people.ts';
import { type BenchRow, percentile } from './row.ts';

const SHOP = 'bench';
const SMALL = 1_000;
const LARGE = { server: 1_000_000, embedded: 20_000 } as const;
const VIEWS = 15;
const PAGES = ['/bench', '/wearers', '/tray', '/ring-list', '/deliveries'];

/** The same pages of one shop with a thousand wearers and with very many; median of several views each. */
export async function benchPages(ground: Ground): Promise<BenchRow[]> {
  const shell = await openBenchShop(ground.database, SHOP);
  const room = {
    shell,
    shopId: SHOP,
    kind: 'invented',
    async work() {},
    async moveClock() {},
    async close() {},
  } as unknown as Room;
  const app = createApp(
    { room: () => room, hosts: new Set(['127.0.0.1']), key: 'k', filling: null, choose: async () => [] },
    silentLog,
  );
  const view = async (path: string): Promise<number> => {
    const began = performance.now();
    const answer = await app.request(`http://127.0.0.1${path}`, { headers: { host: '127.0.0.1' } });
    const page = await answer.text();
    if (answer.status !== 200) throw new Error(`${path} answered ${answer.status}: ${page.slice(0, 200)}`);
    return performance.now() - began;
  };
  const views = async (): Promise<Map<string, number[]>> => {
    const found = new Map<string, number[]>();
    for (const path of PAGES) {
      await view(path);
      const times: number[] = [];
      for (let at = 0; at < VIEWS; at += 1) times.push(await view(path));
      found.set(path, times);
    }
    return found;
  };
  await takeBenchJobs(shell, SHOP, benchJobs(0, SMALL, '2026-03-10'));
  await openCases(ground);
  const small = await views();
  await grow(ground, LARGE[ground.on]);
  const large = await views();
  const words = LARGE[ground.on].toLocaleString('en-GB');
  return PAGES.map((path) => ({
    what: `page ${path} at ${words} wearers`,
    on: ground.on,
    beside: `the same at ${SMALL.toLocaleString('en-GB')}`,
    unit: 'ms',
    ours: [percentile(large.get(path)!, 0.5)],
    theirs: [percentile(small.get(path)!, 0.5)],
    goal: { of: 'ratio', most: 1.5 } as const,
  }));
}

/** One in twenty wearers of the thousand has an open case, as a busy shop would. */
async function openCases(ground: Ground): Promise<void> {
  await sql`
    insert into case_file (shop_id, case_id, pair_id, wearer_id, state, labels, opened_at, changed_at)
    select shop_id, 'case-' || pair_id, pair_id, wearer_id, 'new', array['swim'], now(), now()
    from pair where right(pair_id, 1) = '0' limit 50`.execute(ground.database.db);
}

/** Copies the wearers of the shop, with everything that is theirs, until there are so many. */
async function grow(ground: Ground, wearers: number): Promise<void> {
  const { db } = ground.database;
  const copies = Math.round(wearers / SMALL) - 1;
  const copied: Readonly<Record<string, string>> = {
    wearer: 'wearer_id, name',
    contact_point: 'contact_id, address',
    wearer_contact: 'wearer_id, contact_id',
    job: 'job_id, job_key, wearer_id',
    pair: 'pair_id, job_id, wearer_id',
    plan: 'pair_id, wearer_id',
    check_in: 'check_in_id, pair_id, wearer_id',
  };
  await sql`set session_replication_role = replica`.execute(db).catch(() => {});
  for (const [table, changed] of Object.entries(copied)) {
    const { rows } = await sql<{ name: string }>`
      select column_name as name from information_schema.columns
      where table_name = ${table} and table_schema = 'public' and is_generated = 'NEVER'
      order by ordinal_position`.execute(db);
    const keys = new Set(changed.split(', '));
    const names = rows.map((row) => row.name);
    const values = names.map((name) => (keys.has(name) ? `t.${name} || '~' || n` : `t.${name}`));
    await sql
      .raw(
        `insert into ${table} (${names.join(', ')}) select ${values.join(', ')} from ${table} t, generate_series(1, ${copies}) n where position('~' in t.shop_id) = 0`,
      )
      .execute(db);
  }
  await sql`analyze`.execute(db);
}

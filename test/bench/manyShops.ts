import { type RawBuilder, sql } from 'kysely';
import { tickShops } from '../../jobs/tickShops.ts';
import type { Channel } from '../../src/channels/channel.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { shopsToWorkFor } from '../../src/store/shopDoors.ts';
import type { Ground } from './ground.ts';
import { benchJobs, NOW, openBenchShop, takeBenchJobs } from './people.ts';
import { type BenchRow, percentile, secondsOf } from './row.ts';

const SHOPS = 5_000;
const WEARERS_EACH = 10;
/** Check-ins due in one tick: as many shops have one each, or half of them are one shop's. */
const DUE = 400;
const RUNS = 3;
const AT_ONCE = 4;
const FIRST = 'bench';
const BUSY = 'busy';

/**
 * One database with 5,000 shops, and one tick of all of them. Even: four hundred shops have a check-in due each. Uneven: two
 * hundred have one, and one shop has the other two hundred. How long the slowest hundredth of the small shops' check-ins waits
 * from the beginning of the tick until its carrier has it. And what a tick costs when nobody has anything due.
 */
export async function benchManyShops(ground: Ground): Promise<BenchRow[]> {
  const first = await openBenchShop(ground.database, FIRST);
  const { db } = ground.database;
  await takeBenchJobs(first, FIRST, benchJobs(0, WEARERS_EACH, '2026-03-15'));
  const busy = await openBenchShop(ground.database, BUSY);
  await takeBenchJobs(busy, BUSY, benchJobs(0, DUE / 2, '2026-03-15'));
  await openShops(ground);
  await sql`analyze`.execute(db);
  const even: number[] = [];
  const uneven: number[] = [];
  for (let run = 0; run < RUNS; run += 1) {
    await makeDue(ground, DUE, 0);
    even.push(percentile(await waits(ground, first), 0.99));
    await makeDue(ground, DUE / 2, DUE / 2);
    uneven.push(percentile(await waits(ground, first), 0.99));
  }
  const idle: number[] = [];
  for (let run = 0; run < RUNS; run += 1) {
    await makeDue(ground, 0, 0);
    idle.push(1_000 * (await secondsOf(() => waits(ground, first))));
  }
  const shops = SHOPS.toLocaleString('en-GB');
  return [
    {
      what: `${shops} shops, one with half of what is due: p99 of the others`,
      on: ground.on,
      beside: 'the same, due evenly',
      unit: 'ms',
      ours: uneven,
      theirs: even,
      goal: { of: 'ratio', most: 1.2 },
    },
    {
      what: `a tick of ${shops} shops of which none has anything due`,
      on: ground.on,
      beside: '–',
      unit: 'ms',
      ours: idle,
      theirs: [],
      goal: { of: 'figure', most: 250 },
    },
  ];
}

/** Copies of the first shop, set by set: ids may be the same in every shop, since each key leads with the shop. */
async function openShops({ database: { db } }: Ground): Promise<void> {
  await db.connection().execute(async (one) => {
    await sql`set session_replication_role = replica`.execute(one);
    for (const table of TABLES) {
      const { rows } = await sql<{ name: string }>`
        select column_name as name from information_schema.columns
        where table_name = ${table} and table_schema = 'public' and is_generated = 'NEVER'`.execute(one);
      const others = rows.map((row) => row.name).filter((name) => name !== 'shop_id');
      const columns = sql.join(others.map((name) => sql.id(name)));
      const copies: RawBuilder<unknown> = sql`generate_series(1, ${sql.lit(SHOPS - 2)}) n`;
      await sql`insert into ${sql.id(table)} (shop_id, ${columns})
        select 'shop-' || n, ${columns} from ${copies}, ${sql.id(table)} t where t.shop_id = ${FIRST}`.execute(
        one,
      );
    }
    await sql`truncate review_change`.execute(one);
    await sql`set session_replication_role = origin`.execute(one);
    // Looked at in other measurements; here the clock alone has nothing to do.
    await sql`update shop set clock_at = timestamptz '2100-01-01'`.execute(one);
    await sql`insert into foretold (shop_id, pair_id, wearer_id, ring_at, at)
      select shop_id, pair_id, wearer_id, now(), now() from pair on conflict do nothing`.execute(one);
  });
}
const TABLES = [
  'shop',
  'person',
  'lens_design',
  'wearer',
  'contact_point',
  'wearer_contact',
  'job',
  'pair',
  'plan',
  'check_in',
];

/** So many shops have one check-in due now, and the busy one so many; nothing else is due in any. */
async function makeDue({ database: { db } }: Ground, shops: number, busy: number): Promise<void> {
  for (const statement of [
    sql`truncate message, attempt cascade`,
    sql`update check_in set state = 'planned', message_id = null, due_at = ${new Date('2026-06-01T14:00:00Z')}
      where due_at <= ${NOW} or state <> 'planned'`,
    sql`update check_in c set due_at = ${NOW}
      from (select distinct on (shop_id) shop_id, check_in_id from check_in where kind = 'ask' and shop_id in (
        select shop_id from shop where shop_id like 'shop-%' order by md5(shop_id) limit ${shops})
        order by shop_id, check_in_id) one
      where c.shop_id = one.shop_id and c.check_in_id = one.check_in_id`,
    sql`update check_in c set due_at = ${NOW}
      from (select distinct on (wearer_id) check_in_id from check_in where kind = 'ask' and shop_id = ${BUSY}
        order by wearer_id, check_in_id limit ${busy}) one
      where c.shop_id = ${BUSY} and c.check_in_id = one.check_in_id`,
    sql`truncate review_change`,
    sql`vacuum analyze check_in, attempt, message, review_change`,
  ])
    await statement.execute(db);
}

/** One tick; answers how many milliseconds after its beginning each check-in of a small shop was with its carrier. */
async function waits({ database }: Ground, first: Shell): Promise<number[]> {
  const small: number[] = [];
  let sent = 0;
  const began = performance.now();
  const carrierOf = (shopId: string): Channel => ({
    name: 'null text',
    kind: 'text',
    async send(message) {
      sent += 1;
      if (shopId !== BUSY) small.push(performance.now() - began);
      return { state: 'accepted', farId: `null-${message.attemptId}` };
    },
    find: async () => 'not there',
  });
  await tickShops({
    outside: database.outside,
    now: NOW,
    always: [],
    atOnce: AT_ONCE,
    shellOf: async (shopId) => ({ ...first, db: database.inShop(shopId), carrier: () => carrierOf(shopId) }),
    trouble(shopId, error) {
      throw new Error(`shop ${shopId}: ${error}`);
    },
  });
  const left = await shopsToWorkFor(database.outside, NOW);
  if (left.length > 0) throw new Error(`${left.length} shops have something left after ${sent} check-ins`);
  return small;
}

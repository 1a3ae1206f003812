import { sql } from 'kysely';
import { keptPairs } from '../../src/followup/keptPairs.ts';
import { dayNumber } from '../../src/followup/pairSummaries.ts';
import { refreshReview } from '../../src/followup/refreshReview.ts';
import type { Shell } from '../../src/followup/shell.ts';
import type { SummaryBlock } from '../../src/followup/summaryBlock.ts';
import type { Room } from '../../src/house.ts';
import { silentLog } from '../../src/log.ts';
import type { Db } from '../../src/store/database.ts';
import { createApp } from '../../src/web/app.tsx';
import { signedIn } from '../web/signedIn.ts';
import type { Ground } from './ground.ts';
import { benchJobs, NOW, openBenchShop, takeBenchJobs } from './people.ts';
import { type BenchRow, percentile, secondsOf } from './row.ts';

const SHOP = 'bench';
const SMALL = 1_000;
const LARGE = { server: 1_000_000, embedded: 20_000 } as const;
const VIEWS = 9;
const CASES = 50;
const LENS_DESIGNS = '/lens-designs';
/** Shown as quickly as ever, however many wearers there are. */
const PAGES = [
  '/bench',
  '/cases/case-0',
  '/wearers',
  '/wearers?q=Wearer+9',
  '/tray',
  '/ring-list',
  '/deliveries',
];

/**
 * The same pages of one shop with a thousand wearers and with very many, each with a pair, facts, check-ins, messages and a
 * reply, over three years; median of several views each, signed in, from request to the whole page.
 */
export async function benchPages(ground: Ground): Promise<BenchRow[]> {
  const shell = await openBenchShop(ground.database, SHOP);
  await takeBenchJobs(shell, SHOP, benchJobs(0, SMALL, '2026-03-10'));
  await giveHistory(ground.database.db);
  await refreshReview(shell.db, SHOP);
  await sql`analyze`.execute(ground.database.db);
  const look = await screenOf(ground, shell);
  const small = await views(look);
  await grow(ground, LARGE[ground.on]);
  const first = await secondsOf(() => keptPairs(shell.db, SHOP, {}, dayNumber('2026-03-16')));
  const large = await views(look);
  const words = LARGE[ground.on].toLocaleString('en-GB');
  const common = { on: ground.on, unit: 'ms' } as const;
  const beside = `the same at ${SMALL.toLocaleString('en-GB')}`;
  const median = (times: readonly number[]) => [percentile(times, 0.5)];
  return [
    ...[...PAGES, LENS_DESIGNS].map((path) => ({
      ...common,
      what: `page ${path} at ${words} wearers`,
      beside,
      ours: median(large.get(path)!),
      theirs: median(small.get(path)!),
      goal:
        path === LENS_DESIGNS
          ? ({ of: 'figure', most: 1_000 } as const)
          : ({ of: 'ratio', most: 1.5 } as const),
    })),
    {
      ...common,
      what: `${LENS_DESIGNS}: all pairs read by a process that has just begun`,
      beside: '–',
      ours: [1_000 * first],
      theirs: [],
      goal: { of: 'figure', most: 1_000 } as const,
    },
  ];
}

type Look = (path: string) => Promise<number>;

/** Someone signed in at the shop's screen; answers how many milliseconds a page takes. */
async function screenOf(ground: Ground, shell: Shell): Promise<Look> {
  const { cookie } = await signedIn(shell.db, SHOP, shell.clock);
  let at = NOW.getTime();
  const room: Room = {
    shell: { ...shell, clock: { now: () => new Date(at) } },
    shopId: SHOP,
    kind: 'own',
    databaseIs: ground.on,
    async work() {},
    async moveClock() {},
    async close() {},
  };
  const app = createApp(
    { room: () => room, hosts: new Set(['127.0.0.1']), key: 'k', filling: null, choose: async () => [] },
    silentLog,
  );
  return async (path) => {
    // The door counts how often one asks in a minute.
    at += 500;
    const began = performance.now();
    const answer = await app.request(`http://127.0.0.1${path}`, { headers: { host: '127.0.0.1', cookie } });
    const page = await answer.text();
    if (answer.status !== 200) throw new Error(`${path} answered ${answer.status}: ${page.slice(0, 200)}`);
    return performance.now() - began;
  };
}

async function views(look: Look): Promise<Map<string, number[]>> {
  const found = new Map<string, number[]>();
  for (const path of [...PAGES, LENS_DESIGNS]) {
    for (let at = 0; at < 3; at += 1) await look(path);
    const times: number[] = [];
    for (let at = 0; at < VIEWS; at += 1) times.push(await look(path));
    found.set(path, times);
  }
  return found;
}

/** What has gone on with every wearer of the thousand: a message that went out, and a reply; of some an open case. */
async function giveHistory(db: Db): Promise<void> {
  for (const statement of [
    sql`insert into message (shop_id, message_id, once_key, wearer_id, pair_id, purpose, unasked, automatic, channel, contact_id,
        body, asked, local_day, created_at)
      select p.shop_id, 'm-' || p.pair_id, 'm-' || p.pair_id, p.wearer_id, p.pair_id, 'check-in', true, true, 'text', wc.contact_id,
        'How are the new glasses?', '[]', '2026-03-13', timestamptz '2026-03-13 15:00Z'
      from pair p join wearer_contact wc using (shop_id, wearer_id)`,
    sql`insert into attempt (shop_id, attempt_id, message_id, number, state, send_at, handed_over_at, settled_at, far_id)
      select shop_id, 'a-' || message_id, message_id, 1, 'delivered', created_at, created_at, created_at, 'far-' || message_id
      from message`,
    sql`insert into inbound (shop_id, inbound_id, channel, far_id, from_address, body, raw, received_at)
      select shop_id, 'i-' || pair_id, 'text', 'i-' || pair_id, '', 'a bit blurry to the side', '{"forgotten": true}',
        timestamptz '2026-03-13 16:00Z' from pair`,
    sql`insert into inbound_standing (shop_id, inbound_id, received_at, state, wearer_id, pair_id)
      select shop_id, 'i-' || pair_id, timestamptz '2026-03-13 16:00Z', 'done', wearer_id, pair_id from pair`,
    sql`insert into reading (shop_id, reading_id, inbound_id, labels, asks, urgent, stop, spans, left_over, extent, sorter_version, at)
      select shop_id, 'r-' || pair_id, 'i-' || pair_id, array['swim'], '{}', false, false, '[]', '[]', '{}', '1',
        timestamptz '2026-03-13 16:00Z' from pair`,
    sql`insert into case_file (shop_id, case_id, pair_id, wearer_id, state, labels, newest_inbound_id, opened_at, changed_at)
      select shop_id, 'case-' || row_number() over (order by pair_id) - 1, pair_id, wearer_id, 'new', array['swim'],
        'i-' || pair_id, timestamptz '2026-03-13 16:00Z', timestamptz '2026-03-13 16:00Z'
      from pair order by pair_id limit ${CASES}`,
    sql`insert into case_event (shop_id, event_id, case_id, kind, detail, by_name, at)
      select shop_id, 'e-' || case_id, case_id, 'note', '{"text": "opened"}', 'Ana Example', opened_at from case_file`,
  ])
    await statement.execute(db);
}

/** Of each table what differs in a copy, by the number `n` of the copy: names of rows, and everything so many days earlier. */
const earlier = (column: string) => `t.${column} - n * interval '1 day'`;
const day = (column: string) => `t.${column} - n`;
const COPIED: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  wearer: { wearer_id: '', name: '', name_key: '', last_name_key: '', created_at: earlier('created_at') },
  contact_point: { contact_id: '', address: '' },
  wearer_contact: { wearer_id: '', contact_id: '' },
  job: {
    job_id: '',
    job_key: '',
    number_key: '',
    wearer_id: '',
    handed_over_on: day('handed_over_on'),
    created_at: earlier('created_at'),
  },
  pair: {
    pair_id: '',
    job_id: '',
    wearer_id: '',
    handed_over_on: day('handed_over_on'),
    first_worn_on: day('first_worn_on'),
  },
  plan: { pair_id: '', wearer_id: '' },
  check_in: {
    check_in_id: '',
    pair_id: '',
    wearer_id: '',
    due_on: day('due_on'),
    due_at: earlier('due_at'),
    state: `case when ${earlier('due_at')} < timestamptz '${NOW.toISOString()}' then 'claimed' else t.state end`,
  },
  message: {
    message_id: '',
    once_key: '',
    wearer_id: '',
    pair_id: '',
    contact_id: '',
    local_day: day('local_day'),
    created_at: earlier('created_at'),
  },
  attempt: {
    attempt_id: '',
    message_id: '',
    far_id: '',
    send_at: earlier('send_at'),
    handed_over_at: earlier('handed_over_at'),
    settled_at: earlier('settled_at'),
  },
  inbound: { inbound_id: '', far_id: '', received_at: earlier('received_at') },
  inbound_standing: { inbound_id: '', wearer_id: '', pair_id: '', received_at: earlier('received_at') },
  reading: { reading_id: '', inbound_id: '', at: earlier('at') },
  case_file: {
    case_id: '',
    pair_id: '',
    wearer_id: '',
    newest_inbound_id: '',
    state: "'closed'",
    opened_at: earlier('opened_at'),
    changed_at: earlier('changed_at'),
    closed_at: earlier('changed_at'),
  },
  case_event: { event_id: '', case_id: '', at: earlier('at') },
};

/**
 * Copies the wearers of the shop, with everything that is theirs, each copy a day earlier, until there are so many. Indexes that
 * no key needs are made anew afterwards, which is quicker than keeping them.
 */
async function grow(ground: Ground, wearers: number): Promise<void> {
  const { db } = ground.database;
  const copies = Math.round(wearers / SMALL) - 1;
  const tables = Object.keys(COPIED);
  await db.connection().execute(async (one) => {
    // No foreign keys and no marks for the review while rows are copied.
    await sql`set session_replication_role = replica`.execute(one);
    await sql`set maintenance_work_mem = '256MB'`.execute(one);
    const { rows: indexes } = await sql<{ name: string; made: string }>`
      select i.indexname as name, i.indexdef as made from pg_indexes i
      where i.schemaname = 'public' and i.tablename = any(${tables}::text[])
        and not exists (select from pg_constraint c where c.conname = i.indexname)
        and i.indexdef not like 'CREATE UNIQUE%'`.execute(one);
    for (const { name } of indexes) await sql`drop index ${sql.id(name)}`.execute(one);
    for (const [table, changed] of Object.entries(COPIED)) {
      const { rows } = await sql<{ name: string }>`
        select column_name as name from information_schema.columns
        where table_name = ${table} and table_schema = 'public' and is_generated = 'NEVER'
        order by ordinal_position`.execute(one);
      const names = rows.map((row) => row.name);
      const values = names.map((name) => {
        const as = changed[name];
        return as === undefined ? `t.${name}` : as === '' ? `t.${name} || '~' || n` : as;
      });
      await sql
        .raw(
          `insert into ${table} (${names.join(', ')}) select ${values.join(', ')} from generate_series(1, ${copies}) n, ${table} t`,
        )
        .execute(one);
    }
    for (const { made } of indexes) await sql.raw(made).execute(one);
    await growReview(one, copies);
    await sql`set session_replication_role = origin`.execute(one);
    await sql`analyze`.execute(one);
  });
}

/** The blocks of the copies, as they would have been summed up: the same figures under other ids, the same days earlier. */
async function growReview(db: Db, copies: number): Promise<void> {
  const { rows } = await sql<{
    edition: string;
    figures: string;
  }>`select edition, figures from review_block`.execute(db);
  for (const { edition, figures } of rows) {
    const block = JSON.parse(figures) as SummaryBlock;
    const less = (days: readonly number[], n: number) => days.map((one) => one - n);
    for (let n = 1; n <= copies; n += 1) {
      const copy: SummaryBlock = {
        ...block,
        pairId: block.pairId.map((id) => `${id}~${n}`),
        jobId: block.jobId.map((id) => `${id}~${n}`),
        jobNumber: block.jobNumber.map((id) => `${id}~${n}`),
        handedOverDay: less(block.handedOverDay, n),
        firstWornDay: less(block.firstWornDay, n),
      };
      await sql`insert into review_block (shop_id, first_pair_id, edition, figures)
        values (${SHOP}, ${copy.pairId[0]}, ${edition}, ${JSON.stringify(copy)})`.execute(db);
    }
  }
}

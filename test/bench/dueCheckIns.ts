import { makeWorkerUtils, run as runGraphile } from 'graphile-worker';
import { sql } from 'kysely';
import PgBoss from 'pg-boss';
import { nullCarrier } from '../../src/channels/nullCarrier.ts';
import { deliver } from '../../src/followup/deliver.ts';
import { sendDue } from '../../src/followup/sendDue.ts';
import type { Shell } from '../../src/followup/shell.ts';
import type { Ground } from './ground.ts';
import { benchJobs, openBenchShop, takeBenchJobs } from './people.ts';
import { type BenchRow, inTurn, secondsOf } from './row.ts';

const RUNS = 3;
const EACH = { server: 5_000, embedded: 1_000 } as const;
const QUEUE_JOBS = 20_000;
const SHOP = 'bench';
const FIRST_NAMES = [
  'Bea',
  'Juan',
  'María',
  'Walter',
  'Ingrid',
  'Annalisa',
  'J. P.',
  'Bartholomew',
  'Sue',
  'Renée',
];

/** Due check-ins claimed, rendered and recorded, beside empty jobs through two general queues at their best settings. */
export async function benchDueCheckIns(ground: Ground): Promise<BenchRow[]> {
  const shell = await openBenchShop(ground.database, SHOP);
  const each = EACH[ground.on];
  const carrier = nullCarrier('text');
  const sending: Shell = { ...shell, carrier: () => carrier };
  const ours = async (run: number): Promise<number> => {
    await makeDue(ground, shell, run, each);
    const before = carrier.taken.size;
    const seconds = await secondsOf(async () => {
      while ((await sendDue(sending)) + (await deliver(sending)) > 0);
    });
    const sent = carrier.taken.size - before;
    if (sent !== each) throw new Error(`${sent} of ${each} check-ins went out`);
    return sent / seconds;
  };
  const rows = { what: 'due check-ins claimed, rendered, recorded', on: ground.on, unit: 'per s' } as const;
  if (ground.url === undefined) {
    const got = await inTurn(RUNS, ours);
    return [{ ...rows, beside: '–', ours: got.ours, theirs: [], goal: { of: 'figure', least: 0 } }];
  }
  const { url } = ground;
  const boss: number[] = [];
  const graphile: number[] = [];
  const got = await inTurn(RUNS, ours, async () => {
    boss.push(await pgBossRate(url));
    graphile.push(await graphileRate(url));
    return Math.max(boss.at(-1)!, graphile.at(-1)!);
  });
  const beside =
    Math.max(...boss) > Math.max(...graphile) ? 'pg-boss, empty jobs' : 'graphile-worker, empty jobs';
  return [
    {
      ...rows,
      beside: `the faster: ${beside}`,
      ours: got.ours,
      theirs: got.theirs,
      goal: { of: 'ratio', least: 1 },
    },
    { ...rows, beside: 'pg-boss, empty jobs', ours: got.ours, theirs: boss, goal: { of: 'ratio', least: 1 } },
  ];
}

/** New wearers of whom each has exactly one check-in due now. */
export async function makeDue(ground: Ground, shell: Shell, run: number, count: number): Promise<void> {
  const jobs = benchJobs(run * count, count, '2026-03-15');
  // Letters begin with a first name; not everyone has the same one.
  const named = jobs.map((job, at) => {
    const name = `${FIRST_NAMES[at % FIRST_NAMES.length]} ${job.wearer.name}`;
    return { ...job, wearer: { ...job.wearer, name } };
  });
  await takeBenchJobs(shell, SHOP, named);
  await sql`update check_in set state = 'dropped' where state = 'planned'`.execute(ground.database.db);
  await sql`update check_in c set state = 'planned', due_at = ${shell.clock.now()}
    from (select distinct on (wearer_id) check_in_id from check_in where state = 'dropped' and kind = 'ask'
      and wearer_id in (select wearer_id from job where substring(job_key from 3)::int >= ${run * count})) one
    where one.check_in_id = c.check_in_id`.execute(ground.database.db);
  await sql`analyze`.execute(ground.database.db);
}

/** Empty jobs a second: 4 workers, 1,000 a fetch, each half second, until all are `completed`. */
async function pgBossRate(url: string): Promise<number> {
  const boss = new PgBoss({ connectionString: url, schema: 'beside_boss', max: 8 });
  boss.on('error', () => {});
  await boss.start();
  try {
    const queue = 'empty';
    await boss.createQueue(queue);
    await boss.purgeQueue(queue);
    for (let start = 0; start < QUEUE_JOBS; start += 1_000) {
      await boss.insert(Array.from({ length: 1_000 }, () => ({ name: queue, data: {} })));
    }
    let done = 0;
    const began = performance.now();
    await new Promise<void>((ready) => {
      for (let worker = 0; worker < 4; worker += 1) {
        void boss.work(queue, { batchSize: 1_000, pollingIntervalSeconds: 0.5 }, async (jobs) => {
          done += jobs.length;
          if (done >= QUEUE_JOBS) ready();
        });
      }
    });
    while ((await boss.getQueueSize(queue, { before: 'completed' })) > 0);
    return QUEUE_JOBS / ((performance.now() - began) / 1000);
  } finally {
    await boss.stop({ graceful: false, timeout: 1_000 });
  }
}

/** Empty jobs a second: 10 at once, a local queue of 500, completion in batches. */
async function graphileRate(url: string): Promise<number> {
  const utils = await makeWorkerUtils({ connectionString: url, schema: 'beside_graphile', logger: quiet });
  await utils.migrate();
  for (let start = 0; start < QUEUE_JOBS; start += 1_000) {
    await utils.addJobs(Array.from({ length: 1_000 }, () => ({ identifier: 'empty', payload: {} })));
  }
  await utils.release();
  let done = 0;
  let ready = () => {};
  const all = new Promise<void>((resolve) => {
    ready = resolve;
  });
  const began = performance.now();
  const runner = await runGraphile({
    connectionString: url,
    schema: 'beside_graphile',
    noHandleSignals: true,
    logger: quiet,
    taskList: {
      async empty() {
        done += 1;
        if (done === QUEUE_JOBS) ready();
      },
    },
    preset: {
      worker: {
        concurrentJobs: 10,
        maxPoolSize: 12,
        localQueue: { size: 500 },
        completeJobBatchDelay: 0,
        failJobBatchDelay: 0,
      },
    },
  });
  await all;
  await runner.stop();
  return QUEUE_JOBS / ((performance.now() - began) / 1000);
}

const quiet = new (await import('graphile-worker')).Logger(() => () => {});

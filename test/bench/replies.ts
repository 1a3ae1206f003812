import pg from 'pg';
import { takeReply } from '../../src/followup/takeReply.ts';
import { newId } from '../../src/ids.ts';
import { readLabelledReplies } from '../replies/labelledReplies.ts';
import type { Ground } from './ground.ts';
import { benchJobs, NOW, openBenchShop, phoneOf, takeBenchJobs } from './people.ts';
import { type BenchRow, inTurn, percentile } from './row.ts';

const RUNS = 3;
const CLIENTS = 8;
const EACH = { server: 800, embedded: 300 } as const;
const WARM = 200;
const A_SECOND_EMBEDDED = 20;
const SHOP = 'bench';

/**
 * Replies from kept to sorted, with consent, case and causes committed, by eight at once; beside them eight clients that each
 * commit one row and no more. On the embedded database one reply at a time comes in, twenty a second.
 */
export async function benchReplies(ground: Ground): Promise<BenchRow[]> {
  const shell = await openBenchShop(ground.database, SHOP);
  const each = EACH[ground.on];
  await takeBenchJobs(shell, SHOP, benchJobs(0, each, '2026-03-10'));
  const folder = new URL('../replies/', import.meta.url).pathname;
  const texts = readLabelledReplies(`${folder}dev.tsv`).map((one) => one.text);
  let taken = 0;
  const reply = async (at: number): Promise<void> => {
    taken += 1;
    await takeReply(shell, {
      shopId: SHOP,
      channel: 'text',
      farId: `BENCH-${taken}`,
      from: phoneOf(at % each),
      to: null,
      body: texts[taken % texts.length]!,
      receivedAt: NOW.toISOString(),
      raw: {},
    });
  };
  if (ground.url === undefined) return benchEmbedded(reply, each);
  const pool = new pg.Pool({ connectionString: ground.url, max: CLIENTS });
  try {
    await pool.query(
      'create table beside_rows (id text primary key, body text not null, at timestamptz not null)',
    );
    // A first round fills what was empty; then tables are counted, as a server does by itself within a minute or two.
    await rateOf(WARM, reply);
    await pool.query('analyze');
    const got = await inTurn(
      RUNS,
      () => rateOf(each, reply),
      () =>
        rateOf(each, async (at) => {
          await pool.query('insert into beside_rows values ($1, $2, $3)', [
            newId(NOW),
            texts[at % texts.length],
            NOW,
          ]);
        }),
    );
    return [
      {
        what: 'replies kept, sorted, case and causes committed',
        on: 'server',
        beside: 'single rows committed, as many clients',
        unit: 'per s',
        ...got,
        goal: { of: 'ratio', least: 0.3 },
      },
    ];
  } finally {
    await pool.end();
  }
}

async function rateOf(count: number, one: (at: number) => Promise<void>): Promise<number> {
  let next = 0;
  const began = performance.now();
  await Promise.all(
    Array.from({ length: CLIENTS }, async () => {
      while (next < count) {
        next += 1;
        await one(next);
      }
    }),
  );
  return count / ((performance.now() - began) / 1000);
}

/** Replies come by the clock, whether the last one is done or not; the time of each is from its coming to its commit. */
async function benchEmbedded(reply: (at: number) => Promise<void>, count: number): Promise<BenchRow[]> {
  const got = await inTurn(RUNS, async () => {
    const times: number[] = [];
    const waiting: Promise<void>[] = [];
    for (let at = 0; at < count / RUNS; at += 1) {
      const came = performance.now();
      waiting.push(
        reply(at).then(() => {
          times.push(performance.now() - came);
        }),
      );
      await new Promise((resolve) => setTimeout(resolve, 1000 / A_SECOND_EMBEDDED));
    }
    await Promise.all(waiting);
    return percentile(times, 0.99);
  });
  return [
    {
      what: `one reply to commit, p99 at ${A_SECOND_EMBEDDED}/s`,
      on: 'embedded',
      beside: '–',
      unit: 'ms',
      ours: got.ours,
      theirs: [],
      goal: { of: 'figure', most: 100 },
    },
  ];
}

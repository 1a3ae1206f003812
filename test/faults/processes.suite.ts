import { createServer, type Server } from 'node:http';
import { type AddressInfo, createServer as createSocket } from 'node:net';
import { sql } from 'kysely';
import { standingClock } from '../../src/clock.ts';
import type { Shell } from '../../src/followup/shell.ts';
import { takeJobs } from '../../src/followup/takeJobs.ts';
import type { ValidJob } from '../../src/intake/job.ts';
import { silentLog } from '../../src/log.ts';
import { type Database, migrate, openServer } from '../../src/store/database.ts';
import { noJournal } from '../../src/store/journal.ts';
import { openShop } from '../../src/store/shops.ts';
import { withServer } from '../setup/global.ts';
import { startPostgres, type TestServer } from '../setup/postgres.ts';
import { type Child, startChild } from './childProcess.ts';
import type { FromPeer, ToPeer } from './peerProcess.ts';
import { type Chance, seeded } from './seeded.ts';
import type { FaultSize, FaultSuite, FaultTold, FaultWorld } from './suite.ts';

const SIZES = {
  whole: { wearers: 1_000, rounds: 60, peers: [2, 4] },
  short: { wearers: 60, rounds: 5, peers: [2] },
} as const satisfies Record<FaultSize, object>;

const SHOP = 'peers';
/** The telephone of the person on call, reserved for fiction. */
const ON_CALL = '+447700900999';
/** Day 3 of wear, 10:00 in New York: every check-in is due. */
const DUE = new Date('2026-03-05T15:00:30Z');
const MINUTE_MS = 60_000;
/** Pages are back so soon after the database. */
const BACK_WITHIN_MS = 5_000;
const FAULTS = ['kill', 'cut connections', 'stop and go on', 'restart the database', 'none'] as const;
type Fault = (typeof FAULTS)[number];

/** Several processes work for one shop on one PostgreSQL, and what they stand on breaks under them. */
export const processesSuite: FaultSuite = {
  name: 'processes',
  says: '2 and 4 processes on one PostgreSQL tick at once and take replies; they are killed, stopped and let go on, their connections are cut, the database crashes and comes back: nothing twice, nothing lost, pages back within 5 s of the database.',
  async run(world: FaultWorld, size: FaultSize): Promise<FaultTold> {
    const figures: Record<string, number | string> = {};
    const broken: string[] = [];
    for (const peers of SIZES[size].peers) {
      const told = await playWith(peers, world.seed, size);
      for (const [what, figure] of Object.entries(told.figures))
        figures[`${peers} processes: ${what}`] = figure;
      broken.push(...told.broken.map((line) => `${peers} processes: ${line}`));
    }
    return { figures, broken };
  },
};

async function playWith(peers: number, seed: number, size: FaultSize): Promise<FaultTold> {
  // A server of its own: it is crashed on purpose.
  const postgres = await startPostgres();
  const line = await startLine();
  await withServer(postgres.url('postgres'), (client) => client.query('create database peers'));
  const god = openServer(postgres.url('peers'));
  const run = new Run(peers, seeded(seed + peers), SIZES[size], postgres, line, god);
  try {
    await migrate(god.db);
    await run.open();
    for (let round = 0; round < SIZES[size].rounds; round += 1) await run.round();
    await run.settle();
    return await run.told();
  } finally {
    await run.close();
    await god.close();
    line.close();
    postgres.stop();
  }
}

type Peer = Child<ToPeer, FromPeer> & { readonly port: number };
type Sent = { readonly attemptId: string; readonly to: string };

class Run {
  private readonly peers: Peer[] = [];
  private readonly clock = standingClock(DUE);
  private readonly acknowledged = new Set<string>();
  private readonly broken: string[] = [];
  private readonly counts: Record<Fault, number> = Object.fromEntries(FAULTS.map((f) => [f, 0])) as never;
  private readonly phones: string[] = [];
  private left: Fault[] = [];
  private replies = 0;
  private slowestBackMs = 0;
  private readonly many: number;
  private readonly chance: Chance;
  private readonly size: (typeof SIZES)[FaultSize];
  private readonly postgres: TestServer;
  private readonly line: Line;
  private readonly god: Database;

  constructor(
    many: number,
    chance: Chance,
    size: (typeof SIZES)[FaultSize],
    postgres: TestServer,
    line: Line,
    god: Database,
  ) {
    this.many = many;
    this.chance = chance;
    this.size = size;
    this.postgres = postgres;
    this.line = line;
    this.god = god;
  }

  async open(): Promise<void> {
    const db = this.god.inShop(SHOP);
    await openShop(
      db,
      {
        shopId: SHOP,
        name: 'Peers shop',
        kind: 'own',
        country: 'US',
        timeZone: 'America/New_York',
        settings: { phone: '+1 202-555-0100', localNumbers: [{ who: 'emergency', number: '911' }] },
        owner: { name: 'Owner', phoneE164: ON_CALL },
      },
      DUE,
    );
    const shell: Shell = {
      db,
      clock: standingClock(new Date('2026-03-02T15:00:00Z')),
      journal: noJournal,
      log: silentLog,
      carrier: () => undefined,
    };
    const jobs = Array.from({ length: this.size.wearers }, (_, at) => this.job(at));
    await takeJobs(shell, SHOP, jobs, 'test');
    for (let at = 0; at < this.many; at += 1) this.peers.push(await this.start());
  }

  private job(at: number): ValidJob {
    // Reserved numbers are few: the exchange is counted up and the last four digits stay in the range for fiction.
    const phone = `+1${String(202 + Math.trunc(at / 100))}55501${String(at % 100).padStart(2, '0')}`;
    this.phones.push(phone);
    return {
      jobNumber: `P-${at}`,
      wearer: {
        name: `Wearer ${at}`,
        phoneE164: phone,
        prefers: 'text',
        locale: 'en',
        zone: 'America/New_York',
      },
      consent: { given: true, channels: ['text'], basis: 'test' },
      way: 'counter',
      dates: { handedOverOn: '2026-03-02' },
      lensDesign: 'soft 15',
      firstMultifocal: true,
      facts: [],
    };
  }

  private async start(): Promise<Peer> {
    const port = await freePort();
    const child = startChild<ToPeer, FromPeer>('./peerProcess.ts');
    const opening = {
      do: 'open',
      databaseUrl: this.postgres.url('peers'),
      port,
      line: this.line.address,
      at: this.clock.now().toISOString(),
    } as const;
    const answer = await child.ask(opening);
    if (answer === 'died' || 'failed' in answer)
      throw new Error(`a process did not open: ${JSON.stringify(answer)}`);
    return Object.assign(child, { port });
  }

  /** All processes tick at once, replies come in, and in the middle of it something breaks. */
  async round(): Promise<void> {
    this.clock.moveTo(new Date(this.clock.now().getTime() + MINUTE_MS));
    const at = this.clock.now().toISOString();
    const fault = this.nextFault();
    this.counts[fault] += 1;
    const ticking = Promise.all(this.peers.map((peer) => peer.ask({ do: 'tick', at })));
    const replying = Promise.all(Array.from({ length: 3 }, () => this.reply()));
    await new Promise((resolve) => setTimeout(resolve, this.chance.below(60)));
    await this.strike(fault);
    await Promise.all([ticking, replying]);
    for (const [index, peer] of this.peers.entries()) {
      if (peer.dead) this.peers[index] = await this.start();
    }
  }

  /** Every fault as often as the others, in an order that the seed gives. */
  private nextFault(): Fault {
    if (this.left.length === 0) this.left = [...FAULTS];
    return this.left.splice(this.chance.below(this.left.length), 1)[0]!;
  }

  private async strike(fault: Fault): Promise<void> {
    const peer = this.chance.pick(this.peers);
    switch (fault) {
      case 'kill':
        return peer.kill();
      case 'stop and go on': {
        peer.signal('SIGSTOP');
        // The others do a tick of their own in the meantime.
        const at = this.clock.now().toISOString();
        await Promise.all(this.peers.filter((one) => one !== peer).map((one) => one.ask({ do: 'tick', at })));
        peer.signal('SIGCONT');
        return;
      }
      case 'cut connections':
        await withServer(this.postgres.url('postgres'), (client) =>
          client.query(
            `select pg_terminate_backend(pid) from pg_stat_activity where datname = 'peers' and pid <> pg_backend_pid()`,
          ),
        );
        return;
      case 'restart the database':
        await this.postgres.restart();
        await this.pagesBack();
        return;
      case 'none':
        return;
    }
  }

  private async pagesBack(): Promise<void> {
    const begin = performance.now();
    for (const peer of this.peers) {
      while (!(await this.isBack(peer))) {
        if (performance.now() - begin > 4 * BACK_WITHIN_MS) break;
        await new Promise((resolve) => setTimeout(resolve, 50));
      }
    }
    const tookMs = performance.now() - begin;
    this.slowestBackMs = Math.max(this.slowestBackMs, tookMs);
    if (tookMs > BACK_WITHIN_MS) this.broken.push(`pages were back only after ${Math.round(tookMs)} ms`);
  }

  private async isBack({ port }: Peer): Promise<boolean> {
    const ask = async (path: string): Promise<number> =>
      (await fetch(`http://127.0.0.1:${port}${path}`, { redirect: 'manual' }).catch(() => undefined))
        ?.status ?? 599;
    return (await ask('/readyz')) === 200 && (await ask('/bench')) < 500;
  }

  /** As a carrier does it: the same message again, to whichever process answers, until one says that it has it. */
  private async reply(): Promise<void> {
    this.replies += 1;
    const farId = `m-${this.replies}`;
    const danger = this.chance.happens(0.1);
    const raw = {
      shopId: SHOP,
      channel: 'text' as const,
      farId,
      from: this.chance.pick(this.phones),
      to: null,
      body: danger
        ? 'since this morning lots of new black specks and flashes in my left eye'
        : 'the edges swim a bit',
      receivedAt: this.clock.now().toISOString(),
      raw: null,
    };
    for (let tries = 0; tries < 3; tries += 1) {
      const answer = await this.chance.pick(this.peers).ask({ do: 'reply', raw });
      if (answer === 'died' || 'failed' in answer) continue;
      this.acknowledged.add(farId);
      // And once more, as carriers do.
      if (this.chance.happens(0.2)) await this.chance.pick(this.peers).ask({ do: 'reply', raw });
      return;
    }
  }

  /** Without faults until nothing is open any more: a quarter of an hour settles what is unsure. */
  async settle(): Promise<void> {
    for (let minute = 0; minute < 30; minute += 1) {
      this.clock.moveTo(new Date(this.clock.now().getTime() + MINUTE_MS));
      const at = this.clock.now().toISOString();
      await Promise.all(this.peers.map((peer) => peer.ask({ do: 'tick', at })));
    }
  }

  async told(): Promise<FaultTold> {
    const { db } = this.god;
    const attempts = await sql<{ attempt_id: string; check_in_id: string; wearer_id: string; state: string }>`
      select a.attempt_id, m.check_in_id, m.wearer_id, a.state from attempt a join message m using (shop_id, message_id)
      where m.check_in_id is not null`.execute(db);
    const askedOf = new Map(attempts.rows.map((row) => [row.attempt_id, row.check_in_id]));
    const times = new Map<string, number>();
    for (const { attemptId } of this.line.sent) {
      const checkIn = askedOf.get(attemptId);
      if (checkIn !== undefined) times.set(checkIn, (times.get(checkIn) ?? 0) + 1);
    }
    const doubled = [...times.values()].filter((count) => count > 1).length;
    const accounted = new Set(attempts.rows.map((row) => row.wearer_id));
    const passed = await sql<{ wearer_id: string }>`
      select distinct wearer_id from check_in where due_at <= ${this.clock.now()} and state <> 'planned'`.execute(
      db,
    );
    for (const row of passed.rows) accounted.add(row.wearer_id);
    const lost = this.size.wearers - accounted.size;
    const unsure = attempts.rows.filter((row) => row.state === 'unsure').length;
    const silent = attempts.rows.filter(
      (row) => row.state === 'accepted' && !this.line.sent.some((one) => one.attemptId === row.attempt_id),
    ).length;
    const inbound = await sql<{ far_id: string; times: number; state: string }>`
      select i.far_id, count(*) as times, min(s.state) as state from inbound i
      join inbound_standing s using (shop_id, inbound_id) group by i.far_id`.execute(db);
    const there = new Map(inbound.rows.map((row) => [row.far_id, row]));
    const gone = [...this.acknowledged].filter((farId) => !there.has(farId)).length;
    const twice = inbound.rows.filter((row) => row.times > 1).length;
    const unsorted = inbound.rows.filter((row) => row.state === 'raw').length;
    const dangers = await sql<{
      raised: number;
    }>`select count(*) as raised from alarm where kind = 'danger'`.execute(db);
    const rung = this.line.sent.filter((one) => one.to === ON_CALL).length;
    const broken = [
      ...this.broken,
      ...(doubled > 0 ? [`${doubled} check-ins were sent twice`] : []),
      ...(lost > 0 ? [`${lost} wearers were due and have no row that says what became of it`] : []),
      ...(silent > 0 ? [`${silent} messages stand as accepted and never went out`] : []),
      ...(gone > 0 ? [`${gone} acknowledged replies are gone`] : []),
      ...(twice > 0 ? [`${twice} replies are there twice`] : []),
      ...(unsorted > 0 ? [`${unsorted} replies were never sorted`] : []),
      ...(dangers.rows[0]!.raised > 0 && rung === 0 ? ['no alarm reached the person on call'] : []),
    ];
    return {
      figures: {
        ...this.counts,
        'check-ins sent': times.size,
        'sent twice': doubled,
        'left as may not have arrived': unsure,
        'replies acknowledged': this.acknowledged.size,
        'acknowledged and lost': gone,
        'alarms raised': dangers.rows[0]!.raised,
        'calls to the person on call': rung,
        'slowest page after a restart, ms': Math.round(this.slowestBackMs),
      },
      broken,
    };
  }

  async close(): Promise<void> {
    await Promise.all(this.peers.map((peer) => peer.kill()));
  }
}

type Line = { readonly address: string; readonly sent: readonly Sent[]; close(): void };

/** The carrier's end: takes down what it was handed, and says of an attempt whether it has it. */
async function startLine(): Promise<Line> {
  const sent: Sent[] = [];
  const server: Server = createServer((request, response) => {
    const sought = /^\/find\/(.+)$/.exec(request.url ?? '')?.[1];
    if (sought !== undefined) {
      response.writeHead(sent.some((one) => one.attemptId === sought) ? 200 : 404).end();
      return;
    }
    let body = '';
    request.on('data', (chunk: Buffer) => {
      body += chunk.toString();
    });
    request.on('end', () => {
      sent.push(JSON.parse(body) as Sent);
      response.writeHead(200).end();
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return { address: `http://127.0.0.1:${port}`, sent, close: () => server.close() };
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createSocket();
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as AddressInfo;
      probe.close(() => resolve(port));
    });
  });
}

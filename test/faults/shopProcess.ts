import { type ServerType, serve } from '@hono/node-server';
import type { OffsetClock } from '../../src/clock.ts';
import type { CarrierSettings } from '../../src/config.ts';
import { openDatabase, openRoom, type Room } from '../../src/house.ts';
import { openLog } from '../../src/log.ts';
import { createApp } from '../../src/web/app.tsx';

/*
 * The shop as a process of its own, for suites that kill it: the real room on a real server, real carriers' packages, pages and
 * hooks on a port. Only the clock is the parent's: it stands until the parent moves it with the next tick.
 */
export type Opening = {
  readonly databaseUrl: string;
  readonly port: number;
  readonly textOrigin: string;
  readonly carriers: CarrierSettings;
  readonly at: string;
};
export type ToShop =
  | { readonly do: 'open'; readonly opening: Opening }
  | { readonly do: 'tick'; readonly at: string };
export type FromShop = { readonly did: 'open' | 'tick' } | { readonly failed: string };

let now = new Date(0);
let room: Room | undefined;
let server: ServerType | undefined;
const clock: OffsetClock = { now: () => now, offsetMs: () => 0, setOffsetMs() {} };

process.on('message', (message: ToShop) => {
  const work = message.do === 'open' ? open(message.opening) : tickAt(message.at);
  work.then(
    () => say({ did: message.do }),
    (error: unknown) =>
      say({ failed: error instanceof Error ? (error.stack ?? error.message) : String(error) }),
  );
});

async function open(opening: Opening): Promise<void> {
  now = new Date(opening.at);
  const log = openLog('silent');
  const source = { databaseUrl: opening.databaseUrl } as Parameters<typeof openDatabase>[0];
  const opened = await openDatabase(source, 'own', log, () => {});
  room = await openRoom(opened, 'own', undefined, log, () => clock, {
    carriers: opening.carriers,
    trial: { textOrigin: opening.textOrigin, onlyThisMachine: true },
  });
  const app = createApp(
    { room: () => room, hosts: new Set(['127.0.0.1']), key: 'k', filling: null, choose: async () => [] },
    log,
  );
  await new Promise<void>((ready) => {
    server = serve({ fetch: app.fetch, hostname: '127.0.0.1', port: opening.port }, () => ready());
  });
}

async function tickAt(at: string): Promise<void> {
  now = new Date(at);
  await room!.work();
}

const say = (what: FromShop): void => {
  process.send?.(what);
};

// A parent that is gone leaves nobody to work for.
process.on('disconnect', () => {
  server?.close();
  process.exit(0);
});

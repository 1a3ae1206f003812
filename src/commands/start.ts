import { randomBytes } from 'node:crypto';
import { createServer } from 'node:net';
import { type ServerType, serve } from '@hono/node-server';
import cron from 'node-cron';
import { type Config, readConfig } from '../config.ts';
import { type FactorSeal, factorSeal } from '../followup/factorSeal.ts';
import { ownerLink } from '../followup/signInLink.ts';
import { openDatabase, openRoom, type Room, type ShopKind, sourceOf } from '../house.ts';
import { fillInventedShop } from '../invented/fill.ts';
import { INVENTED_SHOP } from '../invented/shop.ts';
import { openLog } from '../log.ts';
import { bad, type Checked, good, type Problem } from '../problems.ts';
import { keptKey } from '../store/keptKey.ts';
import { lockFolder } from '../store/lock.ts';
import type { NewShop } from '../store/shops.ts';
import { hasGuardedOwner } from '../store/signIns.ts';
import { createApp } from '../web/app.tsx';
import type { Choice, House } from '../web/web.ts';
import { chosenKind, keepChosenKind } from './chosenKind.ts';
import type { Command } from './run.ts';

const FIRST_PORT = 4310;
/** What is under way at a stop has so long to end. */
const STOP_MS = 10_000;

export const startCommand: Command = {
  help: `afterfit start [--invented | --own] [--port PORT]

Starts the server on the embedded database (or on DATABASE_URL) and prints one address. On an empty folder the page asks
once which shop to open; the flags answer it here.

  --invented   look round an invented shop, in a data folder of its own
  --own        start (or open) your own shop
  --port PORT  listen there; without it the first free port from ${FIRST_PORT} is taken`,
  async run(args) {
    const config = readConfig();
    if (!config.ok) return fail(config.problems);
    const { dataFolder, databaseUrl, host, pagesUrl, trustedProxies } = config.value;
    const log = openLog(config.value.log);
    const port = await holdPort(
      host,
      args.includes('--port') ? Number(args[args.indexOf('--port') + 1]) : config.value.port,
    );
    if (!port.ok) return fail(port.problems);

    const lock = databaseUrl === undefined ? lockFolder(dataFolder, process.pid) : undefined;
    if (lock && !lock.ok) {
      const at = lock.owner.address ? ` at ${lock.owner.address}` : '';
      return fail([
        {
          code: 'folder-in-use',
          what: `The data folder “${dataFolder}” is in use by process ${lock.owner.pid}${at}`,
          where: dataFolder,
          mend: 'Use that server, stop it first, or set AFTERFIT_DATA to another folder.',
        },
      ]);
    }

    const source = sourceOf(config.value);
    const key = randomBytes(24).toString('base64url');
    const address = `http://${host.includes(':') ? `[${host}]` : host}:${port.value.number}`;
    let room: Room | undefined;
    let filling: House['filling'] = null;
    let stopping = false;
    const open = async (kind: ShopKind, newShop: NewShop): Promise<void> => {
      const opened = await openDatabase(source, kind, log, say);
      if (kind === 'invented') {
        await fillInventedShop(opened, log, (words, done, of) => {
          filling = { words, done, of };
          say(words);
        });
      }
      const ready = (await openRoom(opened, kind, newShop, log, undefined, {
        carriers: config.value.carriers,
        // Only who sits at this machine can open this address, as in the invented shop everyone does.
        pagesAt: kind === 'invented' ? address : undefined,
      }))!;
      if (databaseUrl === undefined) keepChosenKind(dataFolder, kind);
      await ready.work();
      room = ready;
      filling = null;
    };
    const house: House = {
      room: () => room,
      hosts: new Set([...hostNames(host), ...(pagesUrl === undefined ? [] : [new URL(pagesUrl).hostname])]),
      pagesUrl,
      trustedProxies,
      factorSeal: sealFrom(config.value),
      key,
      metricsToken: config.value.metricsToken,
      stopping: () => stopping,
      get filling() {
        return filling;
      },
      async choose(choice) {
        if (room || filling) return [];
        filling = { words: 'Opening the database…', done: 0, of: 1 };
        const opening = open(choice.kind, newShopOf(choice)).catch((error: unknown) => {
          log.error(
            { error: error instanceof Error ? error.stack : String(error) },
            'the shop could not be opened',
          );
          filling = null;
        });
        if (choice.kind === 'own') await opening;
        return [];
      },
    };

    const app = createApp(house, log);
    const kind = args.includes('--invented')
      ? 'invented'
      : args.includes('--own')
        ? 'own'
        : chosenKind(dataFolder);
    const ready = kind ?? (databaseUrl === undefined ? undefined : 'own');
    if (ready) await open(ready, newShopOf(ready === 'invented' ? { kind: 'invented' } : OWN_UNTIL_TOLD));
    if (!isLoopback(host) && !(room && (await mayListenBeyond(room)))) {
      await room?.close();
      if (lock?.ok) lock.lock.release();
      return fail([NOT_BEYOND_YET]);
    }
    await port.value.release();
    const server = await listening(app.fetch, host, port.value.number);
    if (lock?.ok) lock.lock.publish(address.replace('0.0.0.0', '127.0.0.1').replace('[::]', '[::1]'), key);
    say(
      ready
        ? `Afterfit is ready at ${address}`
        : `Afterfit is ready at ${address} (open it to choose a shop)`,
    );
    if (room) await tellOwner(room, pagesUrl ?? address);
    const minute = cron.schedule('* * * * *', () => room?.work(), {
      timezone: 'UTC',
      noOverlap: true,
      name: 'tick',
    });
    await untilStopped();
    say('Stopping: what is under way ends first…');
    stopping = true;
    await minute.stop();
    await closeServer(server);
    await room?.close();
    if (lock?.ok) lock.lock.release();
    return 0;
  },
};

/** On a server several processes read the same secrets, so the key is one that was given to all of them. */
function sealFrom({ factorKey, databaseUrl, dataFolder }: Config): FactorSeal | undefined {
  if (factorKey !== undefined) return factorSeal(Buffer.from(factorKey));
  return databaseUrl === undefined ? factorSeal(keptKey(dataFolder)) : undefined;
}

const isLoopback = (host: string): boolean =>
  host === 'localhost' || host === '::1' || host.startsWith('127.');

/** Names that the pages may be asked for by: another site must not reach them by a name that it points here. */
function hostNames(host: string): string[] {
  const own =
    isLoopback(host) || host === '0.0.0.0' || host === '::' ? [] : [host.includes(':') ? `[${host}]` : host];
  return ['127.0.0.1', 'localhost', '[::1]', ...own];
}

/** The invented shop has no sign-in, and a password alone is not enough beyond this machine. */
const mayListenBeyond = async (room: Room): Promise<boolean> =>
  room.kind === 'own' && (await hasGuardedOwner(room.shell.db, room.shopId));

const NOT_BEYOND_YET: Problem = {
  code: 'not-beyond-yet',
  what: 'AFTERFIT_HOST is not this machine’s own address, and no owner signs in with a second factor yet',
  where: 'AFTERFIT_HOST',
  mend: 'Start without it, open your own shop here, and set the second factor up on “My sign-in” first.',
};

/** Until somebody can sign in, the owner's one-time link is printed where the program was started. */
async function tellOwner(room: Room, address: string): Promise<void> {
  if (room.kind !== 'own') return;
  const path = await ownerLink(room.shell, room.shopId, { onlyFirst: true, dropsFactor: false });
  if (path !== undefined) say(`The owner’s link, for one use within a day: ${address}${path}`);
}

const OWN_UNTIL_TOLD: Choice = {
  kind: 'own',
  name: 'My shop',
  country: 'US',
  timeZone: 'America/New_York',
  phone: '',
};

function newShopOf(choice: Choice): NewShop {
  if (choice.kind === 'invented') return INVENTED_SHOP;
  return {
    shopId: 'own',
    name: choice.name,
    kind: 'own',
    country: choice.country,
    timeZone: choice.timeZone,
    settings: choice.phone === '' ? {} : { phone: choice.phone },
    owner: { name: 'Owner' },
  };
}

/** A port that nobody else can take until we listen there ourselves. */
type HeldPort = { readonly number: number; release(): Promise<void> };

async function holdPort(host: string, wanted: number | undefined): Promise<Checked<HeldPort>> {
  if (wanted !== undefined) {
    if (!Number.isInteger(wanted) || wanted < 0 || wanted > 65535) {
      return bad({
        code: 'port',
        what: 'The port is not a number from 0 to 65535',
        where: '--port',
        mend: 'Leave it out to take a free one.',
      });
    }
    const held = await hold(host, wanted);
    return held
      ? good(held)
      : bad({
          code: 'port-taken',
          what: `Port ${wanted} is taken`,
          where: '--port',
          mend: 'Leave it out to take a free one.',
        });
  }
  for (let port = FIRST_PORT; port < FIRST_PORT + 100; port += 1) {
    const held = await hold(host, port);
    if (held) return good(held);
  }
  return bad({
    code: 'no-port',
    what: `No port from ${FIRST_PORT} to ${FIRST_PORT + 99} is free`,
    where: '--port',
    mend: 'Name a free one.',
  });
}

function hold(host: string, port: number): Promise<HeldPort | undefined> {
  return new Promise((resolve) => {
    const holder = createServer((socket) => socket.destroy());
    holder.once('error', () => resolve(undefined));
    // Where the start is given up, nothing is held back by it.
    holder.unref();
    holder.listen(port, host, () => {
      const at = holder.address();
      resolve({
        number: typeof at === 'object' && at ? at.port : port,
        release: () => new Promise((done) => holder.close(() => done())),
      });
    });
  });
}

function untilStopped(): Promise<void> {
  return new Promise((resolve) => {
    process.once('SIGINT', () => resolve());
    process.once('SIGTERM', () => resolve());
  });
}

/** The address is printed only when it answers. */
function listening(
  fetch: Parameters<typeof serve>[0]['fetch'],
  hostname: string,
  port: number,
): Promise<ServerType> {
  return new Promise((resolve, reject) => {
    const server = serve({ fetch, hostname, port }, () => resolve(server));
    server.once('error', reject);
  });
}

/** Takes nothing new, lets what is under way end, and after a while ends what does not. */
const closeServer = (server: ServerType): Promise<void> =>
  new Promise((resolve) => {
    const late = setTimeout(() => {
      if ('closeAllConnections' in server) server.closeAllConnections();
    }, STOP_MS);
    server.close(() => {
      clearTimeout(late);
      resolve();
    });
    if ('closeIdleConnections' in server) server.closeIdleConnections();
  });

const say = (words: string): void => {
  process.stdout.write(`${words}\n`);
};

function fail(problems: readonly Problem[]): number {
  for (const problem of problems) process.stderr.write(`${problem.what}. ${problem.mend}\n`);
  return 1;
}

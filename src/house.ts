import { join } from 'node:path';
import { tick } from '../jobs/index.ts';
import { tickShops } from '../jobs/tickShops.ts';
import { rehearsalChannel } from './channels/rehearsal.ts';
import { type OffsetClock, offsetClock, systemClock } from './clock.ts';
import type { CarrierSettings, Config } from './config.ts';
import { askAgain } from './followup/askAgain.ts';
import { noteTried } from './followup/noteTried.ts';
import { playUntil } from './followup/playUntil.ts';
import { keepsOff, type LiveTick, ticksBeforeLive } from './followup/readyToGoLive.ts';
import type { LinkMaker, Shell } from './followup/shell.ts';
import { loadStarterDesigns } from './followup/starterDesigns.ts';
import { replayJournal } from './followup/takeReply.ts';
import type { Log } from './log.ts';
import { type CarrierTrial, carriersByShop, type RealCarriers } from './realCarriers.ts';
import {
  checkCarriers,
  namedOutside,
  REAL_WORLD,
  type SetupCheck,
  type SetupWorld,
  whatWorked,
} from './setupChecks.ts';
import { type Database, migrate, openEmbedded, openServer, type ServerSettings } from './store/database.ts';
import { type DumpShelf, openDumpShelf } from './store/dumpShelf.ts';
import { type Journal, noJournal, openJournal } from './store/journal.ts';
import { handedOverIn } from './store/messages.ts';
import { rehearsalStore } from './store/rehearsal.ts';
import { accountsOfAddress, allShopIds, shopOfSecret, shopsOfSender } from './store/shopDoors.ts';
import { findShop, keepClockOffset, type NewShop, openShop } from './store/shops.ts';
import { checkWall } from './store/shopWall.ts';
import { waitingIn } from './store/waiting.ts';

export type ShopKind = 'own' | 'invented';

/** One open shop: its store, its clock, its carriers and the tick that works for it. */
export type Room = {
  readonly shell: Shell;
  readonly shopId: string;
  readonly kind: ShopKind;
  /** Whose message this is, where several shops share a line; who is known to none or to several is this room's shop. */
  readonly ofSender?: (
    channel: 'text' | 'email',
    address: string,
  ) => Promise<{ shell: Shell; shopId: string }>;
  /** The room of the shop that a link, a session or a program's token belongs to, by its hash; this one where it is nobody's. */
  readonly ofSecret?: (hash: string) => Promise<Room>;
  /** The room of one shop of the database; this one where there is none of that id. */
  readonly ofShop?: (shopId: string) => Promise<Room>;
  /** The rooms of the shops in which somebody with this address signs in; this one where nobody does. */
  readonly ofAccount?: (address: string) => Promise<readonly Room[]>;
  /** The nine ticks before the shop goes live. */
  readonly ticks?: () => Promise<readonly LiveTick[]>;
  /** Signs in at every carrier that is set, sees whether the public address comes here, and ticks what works. Sends nothing. */
  readonly tryOutside?: (by: string) => Promise<readonly SetupCheck[]>;
  readonly databaseIs?: Database['kind'];
  /** How the room does, for whatever watches the process. */
  readonly health?: () => Promise<RoomHealth>;
  /** A copy of all records now, beside the embedded database; the file's name. */
  readonly copyNow?: (() => Promise<string>) | undefined;
  /** One tick: all jobs for this shop, and for each shop of the database that has anything due; ticks wait for one another. */
  work(): Promise<void>;
  /** Only in the invented shop: plays time forward, due instant by due instant, and keeps where the clock stands. */
  moveClock(to: Date): Promise<void>;
  close(): Promise<void>;
};

export type RoomHealth = {
  readonly database: boolean;
  readonly tickAgeSeconds: number | undefined;
  readonly tickTookSeconds: number | undefined;
  /** What waits in the shop, by name. */
  readonly waiting: Readonly<Record<string, number>>;
};

export type RoomSource =
  | { readonly folder: string; readonly databaseUrl?: undefined }
  | ({ readonly databaseUrl: string; readonly folder?: undefined } & ServerSettings);

/** Where the settings say that the records are. */
export function sourceOf(config: Config): RoomSource {
  const { databaseUrl, databaseOwnerUrl: ownerUrl, databaseRole: role, dataFolder: folder } = config;
  return databaseUrl === undefined ? { folder } : { databaseUrl, ownerUrl, role };
}

/** What a shop knows of the world outside: carriers that are set, and where its pages can be opened. */
export type Outside = {
  readonly carriers?: CarrierSettings | undefined;
  readonly pagesAt?: string | undefined;
  readonly trial?: CarrierTrial | undefined;
  /** What a test puts in place of the world that is tried before going live. */
  readonly world?: SetupWorld | undefined;
};

const NONE_SET: CarrierSettings = { text: undefined, mail: undefined };

export type Opened = {
  readonly database: Database;
  readonly journal: Journal;
  /** Where copies of an embedded database lie. */
  readonly copies?: DumpShelf;
};

export type Progress = (words: string) => void;

/** Opens the database of a kind of shop, migrates it, puts back what the journal has and the database has lost. */
export async function openDatabase(
  source: RoomSource,
  kind: ShopKind,
  log: Log,
  progress: Progress,
): Promise<Opened> {
  if (source.databaseUrl !== undefined) {
    progress('Connecting to the database server…');
    const database = openServer(
      source.databaseUrl,
      (error) => log.warn({ error: error.message }, 'database connection'),
      source,
    );
    await migrate(database.db, source.role);
    await checkWall(database.outside);
    return { database, journal: noJournal };
  }
  progress('Opening the database in this folder (the first time takes some seconds)…');
  const database = await openEmbedded(join(source.folder, kind, 'database'));
  progress('Bringing its tables up to date…');
  await migrate(database.db);
  await checkWall(database.outside);
  await database.takeStock?.();
  return {
    database,
    journal: openJournal(join(source.folder, kind, 'journal')),
    copies: openDumpShelf(join(source.folder, kind, 'copies'), database.db, kind),
  };
}

/** In the invented shop a link opens on this machine, and its secret is none. */
function linksOf(kind: ShopKind, { carriers, pagesAt }: Outside): LinkMaker | undefined {
  if (kind === 'invented') {
    return pagesAt === undefined ? undefined : { base: pagesAt, key: { version: 1, secret: 'invented' } };
  }
  return carriers?.links && { base: carriers.links.base, key: { version: 1, secret: carriers.links.secret } };
}

/** Makes the shop the first time, and opens the room: from here on ticks may run. */
export async function openRoom(
  opened: Opened,
  kind: ShopKind,
  newShop: NewShop | undefined,
  log: Log,
  clockOf: (offsetMs: number) => OffsetClock = (offsetMs) => offsetClock(systemClock, offsetMs),
  outside: Outside = {},
): Promise<Room | undefined> {
  const { inShop, outside: noShop } = opened.database;
  const [first] = await allShopIds(noShop);
  if (first === undefined) {
    if (!newShop) return undefined;
    await openShop(inShop(newShop.shopId), newShop, clockOf(0).now());
    await loadStarterDesigns(inShop(newShop.shopId), newShop.shopId, clockOf(0).now());
  }
  const shopId = first ?? newShop!.shopId;
  const db = inShop(shopId);
  const shop = await findShop(db, shopId);
  const clock = clockOf(shop.kind === 'invented' ? shop.clock_offset_ms : 0);
  const pretend = rehearsalStore(db, shop.shop_id, clock);
  const carriers = { text: rehearsalChannel('text', pretend), email: rehearsalChannel('email', pretend) };
  const real =
    shop.kind === 'own' && outside.carriers
      ? carriersByShop(
          outside.carriers,
          (one) => handedOverIn(inShop(one), one),
          clock,
          outside.trial,
          shopId,
        )
      : undefined;
  const links = linksOf(shop.kind, outside);
  const named = namedOutside(outside.carriers ?? NONE_SET);
  const served = new Map<string, Served>();
  /** What works for a shop. Whether its own nine ticks stand is looked at anew at each of its turns. */
  const serve = async (one: string): Promise<Served> => {
    const found = served.get(one);
    if (found) return found;
    const own = one === shopId ? shop : await findShop(inShop(one), one);
    const itsCarriers = real?.of(own);
    const it: Served = {
      live: false,
      carriers: itsCarriers,
      shell: {
        db: inShop(one),
        clock,
        journal: opened.journal,
        log,
        carrier(of, channel) {
          if (shop.kind === 'invented') return carriers[channel];
          return it.live ? itsCarriers?.carrier(of, channel) : undefined;
        },
        pagesAt: outside.pagesAt,
        // The invented shop's clock jumps, and nothing of it is worth keeping.
        copies: shop.kind === 'own' && one === shopId ? opened.copies : undefined,
        links: () => links,
        mail: itsCarriers?.mail,
        textLine: itsCarriers?.textLine,
      },
    };
    served.set(one, it);
    return it;
  };
  const lookWhetherLive = async (one: string) => {
    const it = await serve(one);
    if (it.carriers) it.live = (await keepsOff(it.shell, it.carriers.carrier, one, named)).length === 0;
  };
  await lookWhetherLive(shopId);
  const { shell, carriers: firstCarriers } = await serve(shopId);
  await replayJournal(shell);
  const atOnce = opened.database.kind === 'server' ? SHOPS_AT_ONCE : 1;
  const isAsked = asksOutside(outside.carriers ?? NONE_SET);
  const tickAll = async () => {
    // Its own shop, and shops whose carrier or mailbox has to be asked, have a turn at every tick.
    const asked = isAsked ? [...served].filter(([, it]) => it.live).map(([one]) => one) : [];
    let own: unknown;
    await tickShops({
      outside: noShop,
      now: clock.now(),
      always: [shopId, ...asked],
      atOnce,
      async shellOf(one) {
        await lookWhetherLive(one);
        return (await serve(one)).shell;
      },
      trouble(one, error) {
        if (one === shopId) own = error;
        else log.error({ shop: one, error: String(error) }, 'the turn of a shop failed');
      },
    });
    if (own !== undefined) throw own;
  };
  const roomOf = async (one: string): Promise<Room> => {
    if (one === shopId) return room;
    await lookWhetherLive(one);
    const { shell: its, carriers: itsCarriers } = await serve(one);
    return {
      ...room,
      shell: its,
      shopId: one,
      ticks: () => ticksBeforeLive(its, itsCarriers?.carrier ?? its.carrier, one, named),
      tryOutside: (by) => tryOutside(one, by),
      // Of the machine and of all shops' records: only the first shop's owners see to those.
      copyNow: undefined,
    };
  };
  const tryOutside = async (one: string, by: string) => {
    const checks = await checkCarriers(outside.carriers ?? NONE_SET, clock, {
      ...(outside.world ?? REAL_WORLD),
      ...(outside.trial ? { trial: outside.trial } : {}),
    });
    await noteTried((await serve(one)).shell, one, named, whatWorked(checks), by);
    await lookWhetherLive(one);
    return checks;
  };
  let ticks = 0;
  let tickEnded: number | undefined;
  let tickTook: number | undefined;
  let askedAgain = false;
  const atStart = async () => {
    if (askedAgain || !served.get(shopId)!.live) return;
    askedAgain = true;
    await askAgain(shell).catch((error: unknown) =>
      log.warn({ error: String(error) }, 'what came in of late could not be asked for again'),
    );
  };
  let last = Promise.resolve();
  const alone = (work: () => Promise<void>): Promise<void> => {
    const next = last.then(work, work);
    last = next.catch(() => {});
    return next;
  };
  const room: Room = {
    shell,
    shopId: shop.shop_id,
    kind: shop.kind,
    async ofSender(channel, address) {
      const [known, ...others] = await shopsOfSender(noShop, channel, address);
      const whose = known === undefined || others.length > 0 ? shopId : known;
      if (whose !== shopId) await lookWhetherLive(whose);
      return { shell: (await serve(whose)).shell, shopId: whose };
    },
    ofShop: async (one) => roomOf((await allShopIds(noShop)).includes(one) ? one : shopId),
    ofSecret: async (hash) => roomOf((await shopOfSecret(noShop, hash)) ?? shopId),
    async ofAccount(address) {
      const known = new Set((await accountsOfAddress(noShop, address)).map((one) => one.shop_id));
      return known.size === 0 ? [room] : Promise.all([...known].map(roomOf));
    },
    ticks: () => ticksBeforeLive(shell, firstCarriers?.carrier ?? shell.carrier, shop.shop_id, named),
    tryOutside: (by) => tryOutside(shopId, by),
    databaseIs: opened.database.kind,
    async health() {
      const waiting = await within(HEALTH_MS, waitingIn(db, shopId, clock.now())).catch(() => undefined);
      return {
        database: waiting !== undefined,
        tickAgeSeconds: tickEnded === undefined ? undefined : (performance.now() - tickEnded) / 1000,
        tickTookSeconds: tickTook === undefined ? undefined : tickTook / 1000,
        waiting: { ...waiting },
      };
    },
    copyNow: opened.copies && (() => opened.copies!.put(systemClock.now())),
    work: () =>
      alone(async () => {
        const began = performance.now();
        // A database that is away for a while must not end the process: the next tick does what is due.
        try {
          await lookWhetherLive(shopId);
          await atStart();
          await tickAll();
          if (ticks % TICKS_A_STOCK === 0) await opened.database.takeStock?.();
          ticks += 1;
          tickEnded = performance.now();
          tickTook = tickEnded - began;
        } catch (error) {
          log.error({ error: error instanceof Error ? error.message : String(error) }, 'a tick failed');
        }
      }),
    moveClock: (to) =>
      alone(async () => {
        if (shop.kind !== 'invented') throw new Error('only the clock of the invented shop can be moved');
        const start = clock.now();
        if (to <= start) return;
        const offset = clock.offsetMs();
        await playUntil(db, start, to, async (instant) => {
          clock.setOffsetMs(offset + instant.getTime() - start.getTime());
          await tick(shell);
        });
        await keepClockOffset(db, shop.shop_id, clock.offsetMs());
      }),
    async close() {
      await last.catch(() => {});
      real?.close();
      opened.journal.close();
      await opened.database.close();
    },
  };
  return room;
}

/** A shop of the database as this process works for it. */
type Served = { live: boolean; readonly shell: Shell; readonly carriers: RealCarriers | undefined };

/** Whether there is something outside that is asked each minute: a mailbox, or a carrier that cannot call us. */
const asksOutside = ({ text, mail }: CarrierSettings): boolean =>
  mail !== undefined || (text !== undefined && text.publicBase === undefined);

/** Shops that are worked for at once on a server; so many transactions at the most, of ten connections. */
const SHOPS_AT_ONCE = 4;
const HEALTH_MS = 2_000;
const TICKS_A_STOCK = 5;

async function within<T>(ms: number, work: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error('too late')), ms);
  });
  try {
    return await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
}

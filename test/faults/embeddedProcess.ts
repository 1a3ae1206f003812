import { closeSync, openSync, rmSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { systemClock } from '../../src/clock.ts';
import { keepBackup } from '../../src/followup/keepBackup.ts';
import { takeReply } from '../../src/followup/takeReply.ts';
import { openDatabase, openRoom, type Room } from '../../src/house.ts';
import { openLog } from '../../src/log.ts';
import type { RawInbound } from '../../src/store/journal.ts';
import { serveParent } from './childProcess.ts';

/* A shop on the embedded database as a process of its own, for suites that kill it and fill its disk. */
export type ToShop =
  | { readonly do: 'open'; readonly folder: string }
  | { readonly do: 'reply'; readonly farId: string; readonly body: string }
  | { readonly do: 'list' }
  | { readonly do: 'copy' }
  | { readonly do: 'fill' }
  | { readonly do: 'free' };
export type FromShop =
  | { readonly did: ToShop['do']; readonly farIds?: readonly string[] }
  | { readonly failed: string; readonly code: string | undefined };

const FILLER = 'filler';
let room: Room | undefined;
let home = '';

serveParent<ToShop, FromShop>(
  async (message) => {
    const farIds = await act(message);
    return { did: message.do, ...(farIds ? { farIds } : {}) };
  },
  (error) => ({ failed: error.message, code: error.code }),
);

async function act(message: ToShop): Promise<string[] | undefined> {
  switch (message.do) {
    case 'open':
      home = message.folder;
      return open(message.folder);
    case 'reply':
      await takeReply(room!.shell, rawOf(room!.shopId, message.farId, message.body));
      return undefined;
    case 'list':
      return list();
    case 'copy':
      await keepBackup(room!.shell);
      return undefined;
    case 'fill':
      return fill();
    case 'free':
      rmSync(join(home, FILLER), { force: true });
      return undefined;
  }
}

async function open(folder: string): Promise<undefined> {
  const log = openLog('silent');
  const opened = await openDatabase({ folder }, 'own', log, () => {});
  const shop = {
    shopId: 'own',
    name: 'Fault shop',
    kind: 'own' as const,
    country: 'US',
    timeZone: 'America/New_York',
    settings: {},
    owner: { name: 'Owner' },
  };
  room = await openRoom(opened, 'own', shop, log);
}

const rawOf = (shopId: string, farId: string, body: string): RawInbound => ({
  shopId,
  channel: 'text',
  farId,
  from: '+12025550150',
  to: null,
  body,
  receivedAt: systemClock.now().toISOString(),
  raw: null,
});

/** Also those that are twice, twice. */
async function list(): Promise<string[]> {
  const rows = await room!.shell.db.selectFrom('inbound').select('far_id').execute();
  return rows.map((row) => row.far_id);
}

/** Writes until the disk has not a byte left. */
async function fill(): Promise<undefined> {
  const file = openSync(join(home, FILLER), 'a');
  let size = 1 << 20;
  try {
    while (size >= 1) {
      try {
        writeSync(file, Buffer.alloc(size));
      } catch {
        size >>= 1;
      }
    }
  } finally {
    closeSync(file);
  }
}

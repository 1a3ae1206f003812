import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Child, startChild } from './childProcess.ts';
import type { FromShop, ToShop } from './embeddedProcess.ts';
import { seeded } from './seeded.ts';
import type { FaultSize, FaultSuite, FaultTold, FaultWorld } from './suite.ts';

const ROUNDS = { whole: 100, short: 2 } as const satisfies Record<FaultSize, number>;
/** Replies on their way at once when the kill comes. */
const AT_ONCE = 4;

type Shop = Child<ToShop, FromShop>;

/** SIGKILL at any moment while replies come in: what was acknowledged is there after the next start, once. */
export const embeddedKillsSuite: FaultSuite = {
  name: 'embedded-kills',
  says: 'SIGKILL on the embedded store while replies are being taken in: no acknowledged row may be lost, none may be there twice.',
  async run(world: FaultWorld, size: FaultSize): Promise<FaultTold> {
    const chance = seeded(world.seed);
    const folder = mkdtempSync(join(tmpdir(), 'afterfit-kills-'));
    const acknowledged = new Set<string>();
    const lost = new Set<string>();
    let twice = 0;
    let asked = 0;
    const look = async (shop: Shop): Promise<void> => {
      const there = await listed(shop);
      const once = new Set(there);
      twice = Math.max(twice, there.length - once.size);
      for (const farId of acknowledged) if (!once.has(farId)) lost.add(farId);
    };
    try {
      for (let round = 0; round < ROUNDS[size]; round += 1) {
        const shop = await opened(folder);
        await look(shop);
        const wanted = 1 + chance.below(40);
        let taken = 0;
        const one = async (): Promise<void> => {
          while (!shop.dead) {
            asked += 1;
            const farId = `r-${asked}`;
            const answer = await shop.ask({ do: 'reply', farId, body: 'the edges swim' });
            if (answer === 'died') return;
            if ('failed' in answer) throw new Error(answer.failed);
            acknowledged.add(farId);
            taken += 1;
            if (taken === wanted) await shop.kill();
          }
        };
        await Promise.all(Array.from({ length: AT_ONCE }, one));
      }
      const shop = await opened(folder);
      await look(shop);
      await shop.kill();
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
    return {
      figures: {
        kills: ROUNDS[size],
        'replies sent': asked,
        acknowledged: acknowledged.size,
        'acknowledged and lost': lost.size,
        'there twice': twice,
      },
      broken: [
        ...(lost.size > 0 ? [`${lost.size} acknowledged replies are gone`] : []),
        ...(twice > 0 ? [`${twice} replies are there twice`] : []),
      ],
    };
  },
};

/** So large that the database fits and little else does. */
const SMALL_DISK = '160m';
const REPLIES_ON_A_FULL_DISK = { whole: 200, short: 20 } as const;

/** A disk without a byte left: nothing is acknowledged that is not kept, and when there is room again all comes in. */
export const diskFullSuite: FaultSuite = {
  name: 'disk-full',
  says: 'The disk of the embedded store runs full while replies come in and hourly copies are made, then has room again: what is acknowledged is kept, what is not is told so and comes again.',
  async run(_world: FaultWorld, size: FaultSize): Promise<FaultTold> {
    const launcher = smallDisk();
    if (launcher === undefined) {
      return { figures: { 'not played': 'this machine lets us mount no small disk' }, broken: [] };
    }
    const folder = mkdtempSync(join(tmpdir(), 'afterfit-full-'));
    const broken: string[] = [];
    const acknowledged = new Set<string>();
    let refused = 0;
    let deaths = 0;
    let count = 0;
    const send = async (shop: Shop, many: number): Promise<string[]> => {
      const unsent: string[] = [];
      for (let sent = 0; sent < many && !shop.dead; sent += 1) {
        count += 1;
        const farId = `d-${count}`;
        const answer = await shop.ask({ do: 'reply', farId, body: 'x'.repeat(2_000) });
        if (answer !== 'died' && 'did' in answer) acknowledged.add(farId);
        else unsent.push(farId);
      }
      return unsent;
    };
    try {
      // The small disk lives as long as its process does, so it lives through the whole of this.
      const shop = startChild<ToShop, FromShop>('./embeddedProcess.ts', launcher(folder));
      const first = await shop.ask({ do: 'open', folder });
      if (first === 'died' || 'failed' in first) throw new Error(`it did not open: ${JSON.stringify(first)}`);
      await send(shop, REPLIES_ON_A_FULL_DISK[size]);
      const before = acknowledged.size;
      await shop.ask({ do: 'fill' });
      const copy = await shop.ask({ do: 'copy' });
      const unsent = await send(shop, REPLIES_ON_A_FULL_DISK[size]);
      refused = unsent.length;
      if (copy !== 'died' && 'did' in copy) broken.push('an hourly copy was called made on a full disk');
      if (refused === 0) broken.push('the disk was not full');
      await shop.ask({ do: 'free' });
      for (const farId of unsent) {
        const again = await shop.ask({ do: 'reply', farId, body: 'x'.repeat(2_000) });
        if (again === 'died') {
          deaths += 1;
          break;
        }
        if ('did' in again) acknowledged.add(farId);
        else broken.push(`with room again a reply is refused: ${again.failed}`);
      }
      const there = shop.dead ? [] : await listed(shop);
      await shop.kill();
      const once = new Set(there);
      if (deaths > 0) broken.push('the process died');
      for (const farId of acknowledged) if (!once.has(farId)) broken.push(`acknowledged and gone: ${farId}`);
      if (once.size !== there.length) broken.push('a reply is there twice');
      return {
        figures: {
          'acknowledged with room': before,
          'refused on the full disk': refused,
          'acknowledged on the full disk': REPLIES_ON_A_FULL_DISK[size] - refused,
          'there in the end': there.length,
        },
        broken: broken.slice(0, 20),
      };
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

/** A command that mounts a small disk on the folder, seen by the process behind it alone; undefined where that is not allowed. */
function smallDisk(): ((folder: string) => string[]) | undefined {
  const launcher = (folder: string): string[] => [
    'unshare',
    '--map-root-user',
    '--mount',
    'sh',
    '-c',
    `mount -t tmpfs -o size=${SMALL_DISK} none "${folder}" && exec "$0" "$@"`,
  ];
  const probe = mkdtempSync(join(tmpdir(), 'afterfit-probe-'));
  try {
    const [command, ...rest] = launcher(probe);
    execFileSync(command!, [...rest, 'true'], { stdio: 'ignore' });
    return launcher;
  } catch {
    return undefined;
  } finally {
    rmSync(probe, { recursive: true, force: true });
  }
}

async function opened(folder: string): Promise<Shop> {
  const shop = startChild<ToShop, FromShop>('./embeddedProcess.ts');
  const answer = await shop.ask({ do: 'open', folder });
  if (answer === 'died' || 'failed' in answer) throw new Error(`it did not open: ${JSON.stringify(answer)}`);
  return shop;
}

async function listed(shop: Shop): Promise<readonly string[]> {
  const answer = await shop.ask({ do: 'list' });
  if (answer === 'died' || 'failed' in answer) throw new Error(`it does not list: ${JSON.stringify(answer)}`);
  return answer.farIds ?? [];
}

import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';

/**
 * One owner per data folder: the embedded engine does not refuse a second process, and rows written by two vanish
 * silently. The lock is a file made exclusively; it names its owner, so that a dead owner is recognised and a command
 * can find the running server.
 */
export type LockOwner = { pid: number; bootId: string; startedTicks: string; address?: string; key?: string };

export type FolderLock = {
  /** Tells commands where the running server answers and the key that its loopback API asks for. */
  publish(address: string, key: string): void;
  release(): void;
};

export type LockTried =
  | { readonly ok: true; readonly lock: FolderLock }
  | { readonly ok: false; readonly owner: LockOwner };

const FILE = 'owner.lock';

export function lockFolder(folder: string, pid: number): LockTried {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const path = join(folder, FILE);
  for (let round = 0; round < 5; round += 1) {
    const mine: LockOwner = { pid, bootId: bootId(), startedTicks: startedTicks(pid) };
    try {
      const file = openSync(path, 'wx', 0o600);
      writeSync(file, JSON.stringify(mine));
      fsyncSync(file);
      closeSync(file);
      return { ok: true, lock: held(path, mine) };
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
    const owner = readOwner(path);
    if (owner && alive(owner)) return { ok: false, owner };
    // Moved aside before it is removed, so that of two starters only one takes a stale lock away.
    const aside = `${path}.stale-${pid}`;
    try {
      renameSync(path, aside);
      const taken = readOwner(aside);
      if (taken && alive(taken) && !existsSync(path)) renameSync(aside, path);
      else rmSync(aside, { force: true });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    }
  }
  const owner = readOwner(path);
  return { ok: false, owner: owner ?? { pid: 0, bootId: '', startedTicks: '' } };
}

/** The live owner of a folder, if it has one. */
export function ownerOf(folder: string): LockOwner | undefined {
  const owner = readOwner(join(folder, FILE));
  return owner && alive(owner) ? owner : undefined;
}

function held(path: string, mine: LockOwner): FolderLock {
  return {
    publish(address, key) {
      const next = `${path}.next`;
      const file = openSync(next, 'w', 0o600);
      writeSync(file, JSON.stringify({ ...mine, address, key }));
      fsyncSync(file);
      closeSync(file);
      renameSync(next, path);
    },
    release() {
      const owner = readOwner(path);
      if (owner?.pid === mine.pid && owner.startedTicks === mine.startedTicks) rmSync(path, { force: true });
    },
  };
}

function readOwner(path: string): LockOwner | undefined {
  try {
    return JSON.parse(readFileSync(path, 'utf8')) as LockOwner;
  } catch {
    return undefined;
  }
}

/** A process id comes round again; the boot and the process's start time tell the old owner from a newcomer. */
function alive(owner: LockOwner): boolean {
  if (owner.bootId && owner.bootId !== bootId()) return false;
  try {
    process.kill(owner.pid, 0);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return false;
  }
  return owner.startedTicks === '' || owner.startedTicks === startedTicks(owner.pid);
}

function bootId(): string {
  try {
    return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
  } catch {
    return '';
  }
}

/** Field 22 of /proc/PID/stat (proc(5)); empty where there is no /proc, then only the process id counts. */
function startedTicks(pid: number): string {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19] ?? '';
  } catch {
    return '';
  }
}

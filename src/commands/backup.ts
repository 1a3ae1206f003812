import { existsSync, rmSync } from 'node:fs';
import { systemClock } from '../clock.ts';
import { type Config, readConfig } from '../config.ts';
import { noteBackupTried } from '../followup/noteBackupTried.ts';
import { openDatabase, openRoom, sourceOf } from '../house.ts';
import { openLog } from '../log.ts';
import { bad, type Checked, good } from '../problems.ts';
import { openEmbedded } from '../store/database.ts';
import { loadDump } from '../store/dump.ts';
import { linesOfDump, sealFile, writeDumpFile } from '../store/dumpFile.ts';
import { lockFolder, ownerOf } from '../store/lock.ts';
import { chosenKind } from './chosenKind.ts';
import { fileOf, passphraseOf } from './passphrase.ts';
import type { Command } from './run.ts';

export const backupCommand: Command = {
  help: `afterfit backup FILE [--passphrase-file FILE]

Writes all records to one sealed file (AES-256-GCM, key by scrypt of the passphrase), in one moment's state, while the server goes on.
Then it opens the file again, fills a scratch database from it, and compares count and sum of every table.
With a server running on the same data folder the copy is made by that server.

  --passphrase-file FILE   read the passphrase there instead of from AFTERFIT_BACKUP_PASSPHRASE

The file may be put back into the embedded database or into a server: afterfit restore.
Exit code: 0 written and proven, 1 could not.`,
  async run(args) {
    const file = fileOf(args);
    if (file === undefined) return fail(trouble('Name the file to write: afterfit backup FILE.', ''));
    if (existsSync(file))
      return fail(trouble(`The file “${file}” is there already.`, 'Name another: nothing is overwritten.'));
    const config = readConfig();
    if (!config.ok) return fail(config);
    const passphrase = passphraseOf(args, config.value.backupPassphrase);
    if (!passphrase.ok) return fail(passphrase);
    const done = await backUp(config.value, file, passphrase.value);
    if (!done.ok) return fail(done);
    process.stdout.write(
      `Written to ${file}, opened again and compared: ${done.value.tables} tables, ${done.value.rows} rows.\n`,
    );
    return 0;
  },
};

type Proven = { readonly tables: number; readonly rows: number };

async function backUp(config: Config, file: string, passphrase: string): Promise<Checked<Proven>> {
  const { dataFolder, databaseUrl } = config;
  const owner = databaseUrl === undefined ? ownerOf(dataFolder) : undefined;
  if (owner?.address !== undefined) return throughServer(owner.address, owner.key ?? '', file, passphrase);
  const kind = databaseUrl === undefined ? chosenKind(dataFolder) : 'own';
  const noShop = trouble('There is no shop yet.', 'Run “npm start” once and choose.');
  if (kind === undefined) return noShop;
  const lock = databaseUrl === undefined ? lockFolder(dataFolder, process.pid) : undefined;
  if (lock && !lock.ok)
    return trouble(
      `Another command works on the data folder (process ${lock.owner.pid}).`,
      'Wait for it, then try again.',
    );
  try {
    const log = openLog(config.log);
    const opened = await openDatabase(sourceOf(config), kind, log, progress);
    const room = await openRoom(opened, kind, undefined, log);
    if (!room) return noShop;
    try {
      await writeDumpFile(opened.database.db, file, { at: systemClock.now(), kind: room.kind, passphrase });
      const proven = await prove(file, passphrase);
      if (proven.ok) await noteBackupTried(room.shell, room.shopId, { rows: proven.value.rows });
      return proven;
    } catch (error) {
      return couldNot(file, error);
    } finally {
      await room.close();
    }
  } finally {
    if (lock?.ok) lock.lock.release();
  }
}

/** The running server makes a copy beside its database; this command seals and proves it. */
async function throughServer(
  address: string,
  key: string,
  file: string,
  passphrase: string,
): Promise<Checked<Proven>> {
  progress(`A server is running on this folder (${address}); it makes the copy.`);
  const headers = { 'x-afterfit-key': key };
  const answer = await fetch(`${address}/api/copy`, { method: 'POST', headers });
  if (!answer.ok)
    return trouble(`The server at ${address} refused (${answer.status}).`, 'Look at its page and its log.');
  const { copy } = (await answer.json()) as { copy: string };
  try {
    await sealFile(copy, file, passphrase);
    const proven = await prove(file, passphrase);
    if (proven.ok) {
      await fetch(`${address}/api/backup-tried`, {
        method: 'POST',
        headers: { ...headers, 'content-type': 'application/json' },
        body: JSON.stringify({ rows: proven.value.rows }),
      });
    }
    return proven;
  } catch (error) {
    return couldNot(file, error);
  }
}

/** What cannot be put back is no backup: it is tried in a database in memory before it is called one. */
async function prove(file: string, passphrase: string): Promise<Checked<Proven>> {
  progress('Opening it again and filling a scratch database…');
  const scratch = await openEmbedded();
  try {
    const { tallies } = await loadDump(scratch.db, linesOfDump(file, passphrase));
    return good({
      tables: tallies.size,
      rows: [...tallies.values()].reduce((sum, tally) => sum + tally.rows, 0),
    });
  } finally {
    await scratch.close();
  }
}

function couldNot(file: string, error: unknown): Checked<never> {
  rmSync(file, { force: true });
  const { code, message } = error as NodeJS.ErrnoException;
  const why =
    code === 'ENOSPC'
      ? 'the disk is full'
      : code === 'EROFS' || code === 'EACCES'
        ? 'it may not be written there'
        : message;
  return trouble(
    `The backup could not be written: ${why}.`,
    'Nothing else was changed. Mend it and try again.',
  );
}

const trouble = (what: string, mend: string): Checked<never> =>
  bad({ code: 'backup', what, where: 'backup', mend });

const progress = (words: string): void => {
  process.stderr.write(`${words}\n`);
};

function fail(done: Checked<unknown>): number {
  if (!done.ok)
    for (const { what, mend } of done.problems) process.stderr.write(`${`${what} ${mend}`.trim()}\n`);
  return 1;
}

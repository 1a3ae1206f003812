import { existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { systemClock } from '../clock.ts';
import { type Config, readConfig } from '../config.ts';
import { afterRestore } from '../followup/afterRestore.ts';
import { bad, type Checked, good } from '../problems.ts';
import { type Database, openEmbedded, openServer } from '../store/database.ts';
import { checkDump, DumpRefused, hasTables, loadDump } from '../store/dump.ts';
import { isSealed, linesOfDump } from '../store/dumpFile.ts';
import { lockFolder } from '../store/lock.ts';
import { SealBroken } from '../store/sealed.ts';
import { keepChosenKind } from './chosenKind.ts';
import { fileOf, passphraseOf } from './passphrase.ts';
import type { Command } from './run.ts';

export const restoreCommand: Command = {
  help: `afterfit restore FILE [--passphrase-file FILE]

Fills an empty data folder (AFTERFIT_DATA) or an empty database (DATABASE_URL) from a backup, or from an hourly copy of the embedded
database (copies/copy-….gz in the shop's folder). Count and sum of every table are compared before anything is called done;
whatever is there already is refused and left as it is.

Messages that fell due after the copy was made are not sent again: check-ins are passed over, others are asked of the carrier.

  --passphrase-file FILE   read the passphrase there instead of from AFTERFIT_BACKUP_PASSPHRASE

Exit code: 0 put back, 1 could not.`,
  async run(args) {
    const file = fileOf(args);
    if (file === undefined) return fail(trouble('Name the file: afterfit restore FILE.', ''));
    const sealed = isSealed(file);
    if (sealed === undefined) return fail(trouble(`There is no file “${file}”.`, 'Check its name.'));
    const config = readConfig();
    if (!config.ok) return fail(config);
    const passphrase = sealed ? passphraseOf(args, config.value.backupPassphrase) : good('');
    if (!passphrase.ok) return fail(passphrase);
    const put = config.value.databaseUrl === undefined ? intoFolder : intoServer;
    const done = await put(config.value, file, passphrase.value);
    if (!done.ok) return fail(done);
    const { rows, at, passedOver, unsure } = done.value;
    process.stdout.write(
      `Put back as it was at ${at}: ${rows} rows, compared.\n${passedOver} check-ins that fell due since are passed over; ${unsure} messages that waited then are asked of the carrier. Ring those who should have been asked.\n`,
    );
    return 0;
  },
};

type PutBack = {
  readonly rows: number;
  readonly at: string;
  readonly kind: 'own' | 'invented';
  readonly passedOver: number;
  readonly unsure: number;
};

async function intoFolder(config: Config, file: string, passphrase: string): Promise<Checked<PutBack>> {
  const { dataFolder } = config;
  const there = ['own', 'invented'].filter((kind) => existsSync(join(dataFolder, kind)));
  if (there.length > 0) {
    return trouble(
      `The data folder “${dataFolder}” is not empty: there is “${there.join('”, “')}”.`,
      'Name an empty one in AFTERFIT_DATA, or move the old one aside first. Nothing was changed.',
    );
  }
  const lock = lockFolder(dataFolder, process.pid);
  if (!lock.ok)
    return trouble(
      `The data folder is in use by process ${lock.owner.pid}.`,
      'Stop it first, or name another.',
    );
  const beside = join(dataFolder, 'being-put-back');
  try {
    rmSync(beside, { recursive: true, force: true });
    const database = await openEmbedded(beside);
    const done = await load(database, file, passphrase);
    await database.close();
    if (!done.ok) return done;
    mkdirSync(join(dataFolder, done.value.kind), { mode: 0o700 });
    renameSync(beside, join(dataFolder, done.value.kind, 'database'));
    keepChosenKind(dataFolder, done.value.kind);
    return done;
  } finally {
    rmSync(beside, { recursive: true, force: true });
    lock.lock.release();
  }
}

async function intoServer(config: Config, file: string, passphrase: string): Promise<Checked<PutBack>> {
  const { databaseUrl, databaseOwnerUrl: ownerUrl, databaseRole: role } = config;
  const database = openServer(databaseUrl!, () => {}, { ownerUrl, role });
  try {
    if (await hasTables(database.db)) {
      return trouble(
        'The database of DATABASE_URL is not empty.',
        'Make an empty one and name it there. Nothing was changed.',
      );
    }
    return await load(database, file, passphrase, role);
  } finally {
    await database.close();
  }
}

async function load(
  database: Database,
  file: string,
  passphrase: string,
  role?: string,
): Promise<Checked<PutBack>> {
  try {
    process.stderr.write('Reading it through, putting it back and comparing…\n');
    await checkDump(linesOfDump(file, passphrase));
    const { at, kind, tallies } = await loadDump(database.db, linesOfDump(file, passphrase), role);
    const since = kind === 'own' ? await afterRestore(database.db, systemClock.now()) : NOTHING;
    const rows = [...tallies.values()].reduce((sum, tally) => sum + tally.rows, 0);
    return good({ rows, at, kind, ...since });
  } catch (error) {
    if (error instanceof SealBroken || error instanceof DumpRefused)
      return trouble(error.message, 'Nothing was put back.');
    throw error;
  }
}

const NOTHING = { passedOver: 0, unsure: 0 };

const trouble = (what: string, mend: string): Checked<never> =>
  bad({ code: 'restore', what, where: 'restore', mend });

function fail(done: Checked<unknown>): number {
  if (!done.ok)
    for (const { what, mend } of done.problems) process.stderr.write(`${`${what} ${mend}`.trim()}\n`);
  return 1;
}

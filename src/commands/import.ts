import { readFileSync } from 'node:fs';
import { readConfig } from '../config.ts';
import type { DateOrder, Imported } from '../followup/importJobs.ts';
import { importJobs } from '../followup/importJobs.ts';
import { openDatabase, openRoom, sourceOf } from '../house.ts';
import { openLog } from '../log.ts';
import { lockFolder, ownerOf } from '../store/lock.ts';
import { chosenKind } from './chosenKind.ts';
import type { Command } from './run.ts';

export const importCommand: Command = {
  help: `afterfit import FILE [--dry-run] [--date-order dmy|mdy|ymd]

Takes the good lines in and tells every bad one with line, column, found, allowed and how to mend it. The same file twice
changes nothing. With a server running on the same data folder the work is done through that server.
Columns of the short template: job number, name, phone, email, consent, handed over on, lens design, first multifocal.

  --dry-run      tell what would happen, change nothing
  --date-order   order of days and months in dates that are not written 2026-08-27

Exit code: 0 all lines in, 2 some lines refused, 1 could not run.`,
  async run(args) {
    const flags = args.filter((arg) => arg.startsWith('--'));
    const dateOrder = flagValue(args, '--date-order');
    const file = args.find((arg, index) => !arg.startsWith('--') && args[index - 1] !== '--date-order');
    if (file === undefined) return fail('Name the file to take in: afterfit import FILE');
    if (dateOrder !== undefined && !['dmy', 'mdy', 'ymd'].includes(dateOrder)) {
      return fail(`--date-order is “${dateOrder}”; allowed are dmy, mdy and ymd.`);
    }
    let bytes: Uint8Array;
    try {
      bytes = readFileSync(file);
    } catch (error) {
      return fail(
        `${file} could not be read (${(error as NodeJS.ErrnoException).code ?? 'error'}). Check the name and try again.`,
      );
    }
    const take = !flags.includes('--dry-run');
    const done = await importHere(bytes, take, dateOrder as DateOrder | undefined);
    if (typeof done === 'string') return fail(done);
    report(done, take);
    return done.refused.length > 0 ? 2 : 0;
  },
};

/** What the server answers and what is worked out here have one shape. */
export type ImportReport = {
  readonly fresh: number;
  readonly same: number;
  readonly different: readonly string[];
  readonly neverMessaged: { readonly noContact: number; readonly noConsent: number };
  readonly unknownColumns: readonly string[];
  readonly refused: readonly {
    readonly line: number;
    readonly problems: readonly { column?: string | undefined; what: string; mend: string; where: string }[];
  }[];
};

export function importReport(done: Imported): ImportReport {
  return {
    fresh: done.taken?.taken ?? done.tried.fresh.length,
    same: done.tried.same.length,
    different: done.tried.changed.map((line) => line.job.jobNumber),
    neverMessaged: done.intake.notes.neverMessaged,
    unknownColumns: done.intake.notes.unknownColumns,
    refused: done.intake.refused,
  };
}

async function importHere(
  bytes: Uint8Array,
  take: boolean,
  dateOrder: DateOrder | undefined,
): Promise<ImportReport | string> {
  const config = readConfig();
  if (!config.ok) return config.problems.map((one) => `${one.what}. ${one.mend}`).join('\n');
  const { dataFolder, databaseUrl } = config.value;
  if (databaseUrl === undefined) {
    const owner = ownerOf(dataFolder);
    if (owner?.address !== undefined)
      return throughServer(owner.address, owner.key ?? '', bytes, take, dateOrder);
    if (owner)
      return `Another command works on the data folder (process ${owner.pid}). Wait for it, then try again.`;
  }
  const kind = databaseUrl === undefined ? chosenKind(dataFolder) : 'own';
  if (kind === undefined)
    return 'There is no shop yet. Run “npm start” once and choose, or “npm start -- --own”.';
  const lock = databaseUrl === undefined ? lockFolder(dataFolder, process.pid) : undefined;
  if (lock && !lock.ok)
    return `Another command works on the data folder (process ${lock.owner.pid}). Wait for it, then try again.`;
  try {
    const log = openLog(config.value.log);
    const source = sourceOf(config.value);
    const room = await openRoom(await openDatabase(source, kind, log, progress), kind, undefined, log);
    if (!room) return 'There is no shop yet. Run “npm start” once and choose, or “npm start -- --own”.';
    const done = await importJobs(
      room.shell,
      room.shopId,
      bytes,
      { take, by: 'import', personId: null, dateOrder },
      (n, of) => progress(`${n} of ${of} jobs`),
    );
    await room.close();
    return importReport(done);
  } finally {
    if (lock?.ok) lock.lock.release();
  }
}

async function throughServer(
  address: string,
  key: string,
  bytes: Uint8Array,
  take: boolean,
  dateOrder: DateOrder | undefined,
): Promise<ImportReport | string> {
  progress(`A server is running on this folder (${address}); it does the work.`);
  const query = new URLSearchParams({ take: String(take), ...(dateOrder ? { date_order: dateOrder } : {}) });
  const answer = await fetch(`${address}/api/import?${query}`, {
    method: 'POST',
    headers: { 'x-afterfit-key': key, 'content-type': 'text/csv' },
    body: Buffer.from(bytes),
  });
  if (answer.ok) return (await answer.json()) as ImportReport;
  const told = (await answer.json().catch(() => undefined)) as
    | { error?: { what?: string; mend?: string } }
    | undefined;
  return `The server at ${address} refused: ${told?.error?.what ?? answer.status}. ${told?.error?.mend ?? ''}`.trim();
}

function report(done: ImportReport, taken: boolean): void {
  const said = [
    `${done.fresh} ${taken ? 'taken in' : 'would be taken in'}, ${done.same} already here unchanged, ${done.refused.length} refused.`,
    ...(done.different.length > 0
      ? [
          `${done.different.length} are here with other values and were left as they are: ${done.different.slice(0, 10).join(', ')}`,
        ]
      : []),
    ...(done.neverMessaged.noContact + done.neverMessaged.noConsent > 0
      ? [
          `Never messaged: ${done.neverMessaged.noContact} without a number or address, ${done.neverMessaged.noConsent} without consent.`,
        ]
      : []),
    ...(done.unknownColumns.length > 0
      ? [`Columns not known and left aside: ${done.unknownColumns.join(', ')}`]
      : []),
    ...done.refused.flatMap((line) =>
      line.problems.map(
        (one) => `line ${line.line}${one.column ? `, ${one.column}` : ''}: ${one.what} ${one.mend}`,
      ),
    ),
  ];
  process.stdout.write(`${said.join('\n')}\n`);
}

const progress = (words: string): void => {
  process.stderr.write(`${words}\n`);
};

function fail(words: string): number {
  process.stderr.write(`${words}\n`);
  return 1;
}

const flagValue = (args: readonly string[], flag: string): string | undefined => {
  const at = args.indexOf(flag);
  return at < 0 ? undefined : args[at + 1];
};

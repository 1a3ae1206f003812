import {
  closeSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';

/** A message as it came in, before anything was made of it. `farId` is the carrier's or mailbox's own id. */
export type RawInbound = {
  readonly shopId: string;
  readonly channel: 'text' | 'email' | 'phone' | 'page' | 'counter';
  readonly farId: string;
  readonly from: string;
  readonly to: string | null;
  readonly body: string;
  readonly receivedAt: string;
  readonly raw: unknown;
};

/**
 * The embedded engine writes without fsync, so a power cut could take back what the carrier was told we have. Each raw
 * message is therefore appended here and forced to disk first, and read back into the database at every start.
 */
export type Journal = {
  append(message: RawInbound): void;
  /** Every message of the journal, oldest first; a torn last line (power cut while writing) is left out. */
  readAll(): Iterable<RawInbound>;
  /** Removes what came in before a day (`2026-03-01`): it is in the database, and kept there as long as it is to be. */
  forgetBefore?(day: string): void;
  /** Takes out the messages of a wearer who is erased; a file that loses some is written anew beside and then put in place. */
  forgetMessages?(isGone: (message: RawInbound) => boolean): void;
  close(): void;
};

export const noJournal: Journal = { append() {}, readAll: () => [], close() {} };

export function openJournal(folder: string): Journal {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  let openDay = '';
  let file: number | undefined;
  return {
    append(message) {
      const day = message.receivedAt.slice(0, 10);
      if (file === undefined || day !== openDay) {
        if (file !== undefined) closeSync(file);
        file = openSync(join(folder, `inbound-${day}.jsonl`), 'a', 0o600);
        openDay = day;
        const directory = openSync(folder, 'r');
        fsyncSync(directory);
        closeSync(directory);
      }
      // The line is closed on both sides: after a torn line the next one still stands alone.
      writeSync(file, `\n${JSON.stringify(message)}\n`);
      fsyncSync(file);
    },
    *readAll() {
      const names = readdirSync(folder).filter((name) => JOURNAL_FILE.test(name));
      for (const name of names.sort()) yield* messagesIn(join(folder, name));
    },
    forgetBefore(day) {
      for (const name of readdirSync(folder)) {
        const of = /^inbound-(\d{4}-\d\d-\d\d)\.jsonl$/.exec(name)?.[1];
        if (of !== undefined && of < day && of !== openDay) rmSync(join(folder, name));
      }
    },
    forgetMessages(isGone) {
      if (file !== undefined) closeSync(file);
      file = undefined;
      for (const name of readdirSync(folder).filter((one) => JOURNAL_FILE.test(one))) {
        const path = join(folder, name);
        const all = messagesIn(path);
        const kept = all.filter((message) => !isGone(message));
        if (kept.length === all.length) continue;
        const next = openSync(`${path}.next`, 'w', 0o600);
        writeSync(next, kept.map((message) => `\n${JSON.stringify(message)}\n`).join(''));
        fsyncSync(next);
        closeSync(next);
        renameSync(`${path}.next`, path);
      }
    },
    close() {
      if (file !== undefined) closeSync(file);
      file = undefined;
    },
  };
}

const JOURNAL_FILE = /^inbound-.*\.jsonl$/;

function messagesIn(path: string): RawInbound[] {
  return readFileSync(path, 'utf8')
    .split('\n')
    .flatMap((line) => {
      if (line === '') return [];
      try {
        return [JSON.parse(line) as RawInbound];
      } catch {
        return [];
      }
    });
}

import { mkdirSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Db } from './database.ts';
import { writeDumpFile } from './dumpFile.ts';

/** Copies of all records beside the embedded database, each named by its instant. */
export type DumpShelf = {
  readonly folder: string;
  newest(): Date | undefined;
  put(at: Date): Promise<string>;
  /** Takes away what is older, but never the newest. */
  dropOlderThan(instant: Date): void;
};

const NAME = /^copy-(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)Z\.gz$/;

export function openDumpShelf(folder: string, db: Db, kind: 'own' | 'invented'): DumpShelf {
  const dates = (): { name: string; at: Date }[] => {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    return readdirSync(folder)
      .flatMap((name) => {
        const [, day, hours, minutes, seconds] = NAME.exec(name) ?? [];
        return day === undefined ? [] : [{ name, at: new Date(`${day}T${hours}:${minutes}:${seconds}Z`) }];
      })
      .sort((one, other) => one.at.getTime() - other.at.getTime());
  };
  return {
    folder,
    newest: () => dates().at(-1)?.at,
    async put(at) {
      dates();
      const file = join(folder, `copy-${at.toISOString().slice(0, 19).replaceAll(':', '-')}Z.gz`);
      await writeDumpFile(db, file, { at, kind });
      return file;
    },
    dropOlderThan(instant) {
      for (const { name, at } of dates().slice(0, -1)) {
        if (at < instant) rmSync(join(folder, name));
      }
      // What a kill left half written.
      for (const name of readdirSync(folder)) if (name.endsWith('.part')) rmSync(join(folder, name));
    },
  };
}

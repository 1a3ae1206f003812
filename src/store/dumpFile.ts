import {
  closeSync,
  createReadStream,
  createWriteStream,
  existsSync,
  fsyncSync,
  openSync,
  readSync,
  renameSync,
  rmSync,
} from 'node:fs';
import { dirname } from 'node:path';
import { pipeline as piped, Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGunzip, createGzip } from 'node:zlib';
import type { Db } from './database.ts';
import { DumpRefused, dumpOf, refuseHalfSeen, type Tallies, type Tally } from './dump.ts';
import { SEALED_MARK, seal, unseal } from './sealed.ts';

/** Writes a copy of all records to a file that is not there before it is whole and forced to disk. */
export async function writeDumpFile(
  db: Db,
  file: string,
  of: { readonly at: Date; readonly kind: 'own' | 'invented'; readonly passphrase?: string | undefined },
): Promise<Tallies> {
  await refuseHalfSeen(db);
  const told = new Map<string, Tally>();
  const lines = Readable.from(dumpOf(db, of.at, of.kind, told));
  await writeWhole(file, [lines, createGzip()], of.passphrase);
  return told;
}

/** Seals a copy that lies there open. */
export const sealFile = (open: string, file: string, passphrase: string): Promise<void> =>
  writeWhole(file, [createReadStream(open)], passphrase);

async function writeWhole(
  file: string,
  content: readonly [NodeJS.ReadableStream, ...NodeJS.ReadWriteStream[]],
  passphrase: string | undefined,
): Promise<void> {
  const part = `${file}.part`;
  try {
    const out = createWriteStream(part, { mode: 0o600, flush: true });
    // One pipeline for all of it: a fault of any step ends every other, and comes out here.
    const sealing =
      passphrase === undefined ? [] : [(plain: AsyncIterable<Buffer>) => seal(plain, passphrase)];
    await pipeline([...content, ...sealing, out] as never);
    renameSync(part, file);
    const folder = openSync(dirname(file), 'r');
    fsyncSync(folder);
    closeSync(folder);
  } catch (error) {
    rmSync(part, { force: true });
    throw error;
  }
}

/** Whether a copy needs its passphrase; undefined when the file is not there. */
export function isSealed(file: string): boolean | undefined {
  if (!existsSync(file)) return undefined;
  const begin = Buffer.alloc(SEALED_MARK.length);
  const open = openSync(file, 'r');
  readSync(open, begin);
  closeSync(open);
  return begin.equals(SEALED_MARK);
}

/** The lines of a copy, open or sealed. */
export async function* linesOfDump(file: string, passphrase: string | undefined): AsyncGenerator<string> {
  const raw = createReadStream(file);
  const packed = isSealed(file) ? Readable.from(unseal(raw, passphrase ?? '')) : raw;
  // A fault of an earlier step comes out of the last one.
  const unpacked = piped(packed, createGunzip(), () => {});
  unpacked.setEncoding('utf8');
  let held = '';
  try {
    for await (const chunk of unpacked as unknown as AsyncIterable<string>) {
      const lines = (held + chunk).split('\n');
      held = lines.pop()!;
      yield* lines;
    }
  } catch (error) {
    if (String((error as NodeJS.ErrnoException).code).startsWith('Z_'))
      throw new DumpRefused('The copy is damaged or cut off.');
    throw error;
  }
}

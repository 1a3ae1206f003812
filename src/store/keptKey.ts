import { randomBytes } from 'node:crypto';
import { closeSync, fsyncSync, mkdirSync, openSync, readFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';

const FILE = 'keys.secret';
const BYTES = 32;

/**
 * The key that lies beside the records and not in them: it is in no copy and no backup. Made the first time, readable for its
 * user alone.
 */
export function keptKey(folder: string): Buffer {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const path = join(folder, FILE);
  try {
    const file = openSync(path, 'wx', 0o600);
    try {
      writeSync(file, `${randomBytes(BYTES).toString('base64url')}\n`);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
  const key = Buffer.from(readFileSync(path, 'utf8').trim(), 'base64url');
  if (key.length !== BYTES)
    throw new Error(
      `${path} holds no key. Put back the one that was there, or remove the file: second factors are then set up anew.`,
    );
  return key;
}

import { createCipheriv, createDecipheriv, randomBytes, scryptSync } from 'node:crypto';

/**
 * A file that only a passphrase opens. The key is made of it by scrypt (RFC 7914; N 2^17, r 8, p 1: 128 MiB and about half a
 * second a guess); the content goes in pieces, each sealed by AES-256-GCM (NIST SP 800-38D) with its own nonce of a random part, its
 * number, and a mark on the last one, so that pieces can be neither left out, nor moved, nor cut off unseen.
 */
export const SEALED_MARK = Buffer.from('afterfit sealed 1\n');

/** The wrong passphrase, or a file that was changed or cut off: the two cannot be told apart. */
export class SealBroken extends Error {}

const PIECE = 64 * 1024;
const TAG = 16;
const SALT = 16;
const PREFIX = 7;

export async function* seal(content: AsyncIterable<Buffer>, passphrase: string): AsyncGenerator<Buffer> {
  const salt = randomBytes(SALT);
  const prefix = randomBytes(PREFIX);
  const head = Buffer.concat([SEALED_MARK, salt, prefix]);
  const key = keyOf(passphrase, salt);
  yield head;
  let number = 0;
  const piece = (plain: Buffer, last: boolean): Buffer => {
    const cipher = createCipheriv('aes-256-gcm', key, nonceOf(prefix, number, last)).setAAD(head);
    number += 1;
    const body = Buffer.concat([cipher.update(plain), cipher.final(), cipher.getAuthTag()]);
    const length = Buffer.alloc(4);
    length.writeUInt32BE(body.length);
    return Buffer.concat([length, body]);
  };
  let waiting = Buffer.alloc(0);
  for await (const chunk of content) {
    waiting = Buffer.concat([waiting, chunk]);
    while (waiting.length > PIECE) {
      yield piece(waiting.subarray(0, PIECE), false);
      waiting = waiting.subarray(PIECE);
    }
  }
  yield piece(waiting, true);
}

export async function* unseal(sealed: AsyncIterable<Buffer>, passphrase: string): AsyncGenerator<Buffer> {
  const read = reader(sealed);
  const head = await read(SEALED_MARK.length + SALT + PREFIX);
  if (!head?.subarray(0, SEALED_MARK.length).equals(SEALED_MARK)) {
    throw new SealBroken('This is no sealed copy of Afterfit.');
  }
  const salt = head.subarray(SEALED_MARK.length, SEALED_MARK.length + SALT);
  const prefix = head.subarray(SEALED_MARK.length + SALT);
  const key = keyOf(passphrase, salt);
  let body = await piece(read);
  for (let number = 0; ; number += 1) {
    if (!body) throw new SealBroken('The copy is cut off.');
    const following = await piece(read);
    const decipher = createDecipheriv('aes-256-gcm', key, nonceOf(prefix, number, !following))
      .setAAD(head)
      .setAuthTag(body.subarray(-TAG));
    let plain: Buffer;
    try {
      plain = Buffer.concat([decipher.update(body.subarray(0, -TAG)), decipher.final()]);
    } catch {
      throw new SealBroken('The passphrase does not open it, or the copy was changed or cut off.');
    }
    yield plain;
    if (!following) return;
    body = following;
  }
}

type Read = (bytes: number) => Promise<Buffer | undefined>;

async function piece(read: Read): Promise<Buffer | undefined> {
  const length = (await read(4))?.readUInt32BE();
  if (length === undefined) return undefined;
  if (length < TAG || length > PIECE + TAG) throw new SealBroken('The copy was changed or cut off.');
  return read(length);
}

/** Hands out exactly so many bytes; undefined when fewer are left. */
function reader(from: AsyncIterable<Buffer>): Read {
  const source = from[Symbol.asyncIterator]();
  let held = Buffer.alloc(0);
  return async (bytes) => {
    while (held.length < bytes) {
      const step = await source.next();
      if (step.done) return undefined;
      held = Buffer.concat([held, step.value]);
    }
    const taken = held.subarray(0, bytes);
    held = held.subarray(bytes);
    return taken;
  };
}

const keyOf = (passphrase: string, salt: Buffer): Buffer =>
  scryptSync(passphrase.normalize('NFC'), salt, 32, { N: 2 ** 17, r: 8, p: 1, maxmem: 256 * 1024 * 1024 });

function nonceOf(prefix: Buffer, number: number, last: boolean): Buffer {
  const nonce = Buffer.alloc(12);
  prefix.copy(nonce);
  nonce.writeUInt32BE(number, PREFIX);
  nonce.writeUInt8(last ? 1 : 0, 11);
  return nonce;
}

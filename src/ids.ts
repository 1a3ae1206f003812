import { randomFillSync, randomInt } from 'node:crypto';

const COUNTED = 2 ** 32;
const RANDOM_BYTES = 6;

let lastMs = Number.NaN;
let count = 0;
const random = Buffer.alloc(RANDOM_BYTES * 256);
let used = random.length;

/**
 * A row's id: UUID version 7 (RFC 9562 section 5.7), so that ids made later sort later and an index grows at its end. `at` is the
 * injected clock's time. Ids of one millisecond count up from a random beginning (section 6.2, method 1), so that rows that are
 * written together lie together; 42 bits are random.
 */
export function newId(at: Date): string {
  const ms = at.getTime();
  count = ms === lastMs ? (count + 1) % COUNTED : randomInt(COUNTED / 2);
  lastMs = ms;
  if (used === random.length) {
    randomFillSync(random);
    used = 0;
  }
  const bytes = Buffer.allocUnsafe(16);
  bytes.writeUIntBE(ms, 0, 6);
  bytes.writeUInt16BE(0x7000 | (count >>> 20), 6);
  bytes.writeUInt32BE(2 ** 31 + (count & 0xfffff) * 2 ** 10 + (random.readUInt16BE(used) & 0x3ff), 8);
  random.copy(bytes, 12, used + 2, used + RANDOM_BYTES);
  used += RANDOM_BYTES;
  const hex = bytes.toString('hex');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

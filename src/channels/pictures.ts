export type Picture = {
  readonly contentType: 'image/jpeg' | 'image/png' | 'image/webp';
  readonly bytes: Uint8Array;
};

/** The most that is kept of one picture. Common practice, no source. */
export const PICTURE_BYTES = 8_000_000;

/**
 * A picture without what a camera writes beside it: place, time, device. What it is, is read from its first bytes and not
 * from its name. Kinds that we cannot clean (HEIC among them) give undefined: they are not kept, and a person asks.
 * JPEG: application and comment segments go, but for JFIF and the colour note of APP14 (ITU-T T.81 annex B); with them goes
 * the turning note, so a picture may lie on its side. PNG: eXIf, text and time chunks go (PNG 3rd edition section 11.3).
 * WebP: EXIF and XMP chunks go (RFC 9649).
 */
export function withoutLocation(bytes: Uint8Array): Picture | undefined {
  if (bytes.length > PICTURE_BYTES) return undefined;
  if (bytes[0] === 0xff && bytes[1] === 0xd8) return cleaned('image/jpeg', jpeg(bytes));
  if (startsWith(bytes, PNG_MARK)) return cleaned('image/png', png(bytes));
  if (ascii(bytes, 0, 4) === 'RIFF' && ascii(bytes, 8, 4) === 'WEBP')
    return cleaned('image/webp', webp(bytes));
  return undefined;
}

const cleaned = (contentType: Picture['contentType'], bytes: Uint8Array | undefined) =>
  bytes && { contentType, bytes };

const PNG_MARK = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const PNG_DROPPED = new Set(['eXIf', 'tEXt', 'zTXt', 'iTXt', 'tIME']);
const START_OF_SCAN = 0xda;
const COMMENT = 0xfe;

function jpeg(bytes: Uint8Array): Uint8Array | undefined {
  const parts: Uint8Array[] = [bytes.subarray(0, 2)];
  for (let at = 2; at + 4 <= bytes.length; ) {
    if (bytes[at] !== 0xff) return undefined;
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    if (marker === START_OF_SCAN) return joined([...parts, upToEnd(bytes.subarray(at))]);
    const next = at + 2 + number(bytes, at + 2, 2);
    if (next <= at + 3 || next > bytes.length) return undefined;
    const noteOfTheCamera = (marker > 0xe0 && marker <= 0xef && marker !== 0xee) || marker === COMMENT;
    if (!noteOfTheCamera) parts.push(bytes.subarray(at, next));
    at = next;
  }
  return undefined;
}

/** Some cameras hang further pictures, with notes of their own, behind the end of the first. */
function upToEnd(scan: Uint8Array): Uint8Array {
  for (let at = 2; at + 1 < scan.length; at++) {
    if (scan[at] === 0xff && scan[at + 1] === 0xd9) return scan.subarray(0, at + 2);
  }
  return scan;
}

function png(bytes: Uint8Array): Uint8Array | undefined {
  const parts: Uint8Array[] = [bytes.subarray(0, PNG_MARK.length)];
  for (let at = PNG_MARK.length; at + 12 <= bytes.length; ) {
    const next = at + 12 + number(bytes, at, 4);
    if (next > bytes.length) return undefined;
    const kind = ascii(bytes, at + 4, 4);
    if (!PNG_DROPPED.has(kind)) parts.push(bytes.subarray(at, next));
    if (kind === 'IEND') return joined(parts);
    at = next;
  }
  return undefined;
}

function webp(bytes: Uint8Array): Uint8Array | undefined {
  const parts: Uint8Array[] = [];
  const little = (at: number) => new DataView(bytes.buffer, bytes.byteOffset).getUint32(at, true);
  for (let at = 12; at + 8 <= bytes.length; ) {
    const size = little(at + 4);
    const next = at + 8 + size + (size % 2);
    if (next > bytes.length) return undefined;
    const kind = ascii(bytes, at, 4);
    if (kind === 'VP8X') {
      const chunk = bytes.slice(at, next);
      // The flags that say "there is EXIF" and "there is XMP".
      chunk[8]! &= ~0x0c;
      parts.push(chunk);
    } else if (kind !== 'EXIF' && kind !== 'XMP ') parts.push(bytes.subarray(at, next));
    at = next;
  }
  const body = joined(parts);
  const head = bytes.slice(0, 12);
  new DataView(head.buffer).setUint32(4, body.length + 4, true);
  return joined([head, body]);
}

const number = (bytes: Uint8Array, at: number, length: number) =>
  bytes.subarray(at, at + length).reduce((value, byte) => value * 256 + byte, 0);
const ascii = (bytes: Uint8Array, at: number, length: number) =>
  String.fromCharCode(...bytes.subarray(at, at + length));
const startsWith = (bytes: Uint8Array, mark: readonly number[]) =>
  mark.every((byte, at) => bytes[at] === byte);

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

export type Decoded = { readonly text: string; readonly encoding: string; readonly note?: string };

/**
 * Bytes of a file to text: byte order marks of UTF-8 and UTF-16 are heeded, UTF-16 without a mark is known by its
 * zeros, anything else is UTF-8, and where it is not well-formed UTF-8 it is read as Windows-1252, which is told.
 */
export function decodeText(bytes: Uint8Array): Decoded {
  const [first, second, third] = bytes;
  if (first === 0xef && second === 0xbb && third === 0xbf)
    return { text: decode('utf-8', bytes), encoding: 'UTF-8' };
  if (first === 0xff && second === 0xfe) return { text: decode('utf-16le', bytes), encoding: 'UTF-16 LE' };
  if (first === 0xfe && second === 0xff) return { text: decode('utf-16be', bytes), encoding: 'UTF-16 BE' };
  const unmarked = utf16WithoutMark(bytes);
  if (unmarked)
    return { text: decode(unmarked, bytes), encoding: unmarked === 'utf-16le' ? 'UTF-16 LE' : 'UTF-16 BE' };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), encoding: 'UTF-8' };
  } catch {
    return {
      text: decode('windows-1252', bytes),
      encoding: 'Windows-1252',
      note: 'The file is not UTF-8; it was read as Windows-1252. Look at names with accents.',
    };
  }
}

const decode = (encoding: string, bytes: Uint8Array) => new TextDecoder(encoding).decode(bytes);

/** Heads are plain letters: in UTF-16 every second byte of them is zero. */
function utf16WithoutMark(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  const looked = Math.min(bytes.length, 64) & ~1;
  if (looked < 8) return undefined;
  let [evenZeros, oddZeros] = [0, 0];
  for (let at = 0; at < looked; at += 2) {
    if (bytes[at] === 0) evenZeros += 1;
    if (bytes[at + 1] === 0) oddZeros += 1;
  }
  const most = looked * 0.4;
  if (oddZeros > most && evenZeros === 0) return 'utf-16le';
  return evenZeros > most && oddZeros === 0 ? 'utf-16be' : undefined;
}

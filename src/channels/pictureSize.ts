export type PictureSize = { readonly widthDots: number; readonly heightDots: number };

/**
 * How wide and high a picture is, read from its head; undefined where it cannot be told. JPEG: the frame header (ITU-T T.81 B.2.2).
 * PNG: IHDR (PNG 3rd edition section 11.2.1). WebP: VP8, VP8L or VP8X (RFC 9649 section 2).
 */
export function pictureSize(contentType: string, bytes: Uint8Array): PictureSize | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const size = (): PictureSize | undefined => {
    if (contentType === 'image/jpeg') return jpeg(view);
    if (contentType === 'image/png') return { widthDots: view.getUint32(16), heightDots: view.getUint32(20) };
    return contentType === 'image/webp' ? webp(view) : undefined;
  };
  try {
    const read = size();
    return read && read.widthDots > 0 && read.heightDots > 0 ? read : undefined;
  } catch {
    // Cut off before its size: DataView throws where the bytes end.
    return undefined;
  }
}

/** Frame headers are C0 to CF but for the tables C4, C8 and CC. */
const isFrameHeader = (marker: number): boolean =>
  marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;

function jpeg(view: DataView): PictureSize | undefined {
  for (let at = 2; at + 9 <= view.byteLength; ) {
    if (view.getUint8(at) !== 0xff) return undefined;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) at += 1;
    else if (isFrameHeader(marker))
      return { widthDots: view.getUint16(at + 7), heightDots: view.getUint16(at + 5) };
    else at += 2 + view.getUint16(at + 2);
  }
  return undefined;
}

function webp(view: DataView): PictureSize | undefined {
  const kind = String.fromCharCode(...[12, 13, 14, 15].map((at) => view.getUint8(at)));
  if (kind === 'VP8X') return { widthDots: 1 + three(view, 24), heightDots: 1 + three(view, 27) };
  if (kind === 'VP8L') {
    const bits = view.getUint32(21, true);
    return { widthDots: 1 + (bits & 0x3fff), heightDots: 1 + ((bits >>> 14) & 0x3fff) };
  }
  if (kind === 'VP8 ')
    return { widthDots: view.getUint16(26, true) & 0x3fff, heightDots: view.getUint16(28, true) & 0x3fff };
  return undefined;
}

const three = (view: DataView, at: number): number =>
  view.getUint16(at, true) | (view.getUint8(at + 2) << 16);

import { expect, test } from 'vitest';
import { PICTURE_BYTES, withoutLocation } from '../../src/channels/pictures.ts';

const bytes = (...parts: (string | number[])[]) =>
  new Uint8Array(
    Buffer.concat(
      parts.map((part) => (typeof part === 'string' ? Buffer.from(part, 'latin1') : Buffer.from(part))),
    ),
  );
const has = (picture: Uint8Array, words: string) => Buffer.from(picture).includes(words, 0, 'latin1');
const segment = (marker: number, words: string): [number[], string] => [
  [0xff, marker, 0, words.length + 2],
  words,
];

test('a JPEG loses what the camera wrote and keeps its picture, JFIF note and colour note', () => {
  const cleaned = withoutLocation(
    bytes(
      [0xff, 0xd8],
      ...segment(0xe0, 'JFIF\0'),
      ...segment(0xe1, 'Exif\0GPS'),
      ...segment(0xed, 'Photo place'),
      ...segment(0xee, 'Adobe'),
      ...segment(0xfe, 'comment'),
      ...segment(0xdb, 'table'),
      [0xff, 0xda, 0, 2],
      'scan',
      [0xff, 0xd9],
      'GPS of a second picture',
    ),
  )!;
  expect(cleaned.contentType).toBe('image/jpeg');
  for (const gone of ['GPS', 'place', 'comment', 'Exif']) expect(has(cleaned.bytes, gone), gone).toBe(false);
  for (const stays of ['JFIF', 'Adobe', 'table', 'scan']) expect(has(cleaned.bytes, stays), stays).toBe(true);
  expect([...cleaned.bytes.slice(-2)]).toEqual([0xff, 0xd9]);
});

test('a PNG loses its EXIF and text chunks, and what follows its end', () => {
  const chunk = (kind: string, words: string): [number[], string, number[]] => {
    const size = Buffer.alloc(4);
    size.writeUInt32BE(words.length);
    return [[...size], kind + words, [0, 0, 0, 0]];
  };
  const cleaned = withoutLocation(
    bytes(
      [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
      ...chunk('IHDR', 'head'),
      ...chunk('eXIf', 'GPS'),
      ...chunk('iTXt', 'place'),
      ...chunk('IDAT', 'data'),
      ...chunk('IEND', ''),
      'GPS behind',
    ),
  )!;
  expect(has(cleaned.bytes, 'GPS')).toBe(false);
  expect(has(cleaned.bytes, 'place')).toBe(false);
  expect(has(cleaned.bytes, 'IDATdata')).toBe(true);
});

test('a WebP loses EXIF and XMP, the flags that name them, and says its new size', () => {
  const chunk = (kind: string, words: string): [string, number[], string] => [
    kind,
    [words.length, 0, 0, 0],
    words,
  ];
  const cleaned = withoutLocation(
    bytes(
      'RIFF',
      [99, 0, 0, 0],
      'WEBP',
      ...chunk('VP8X', '\x0c123456789'),
      ...chunk('VP8 ', 'data'),
      ...chunk('EXIF', 'GPS!'),
    ),
  )!;
  expect(has(cleaned.bytes, 'GPS')).toBe(false);
  expect(cleaned.bytes[20]).toBe(0);
  expect(new DataView(cleaned.bytes.buffer).getUint32(4, true)).toBe(cleaned.bytes.length - 8);
});

test.each([
  ['a kind that we cannot clean', bytes([0, 0, 0, 24], 'ftypheic')],
  ['a page that calls itself a picture', bytes('<html>')],
  ['a JPEG that breaks off', bytes([0xff, 0xd8, 0xff, 0xe1, 0xff, 0xff], 'Exif GPS')],
  ['a JPEG segment without a length', bytes([0xff, 0xd8, 0xff, 0xe1, 0, 0], 'x'.repeat(20))],
  ['nothing', bytes()],
  ['too large a file', new Uint8Array(PICTURE_BYTES + 1).fill(0xff)],
])('%s is not kept', (_, file) => {
  expect(withoutLocation(file)).toBeUndefined();
});

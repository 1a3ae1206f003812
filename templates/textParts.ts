export type TextParts = {
  readonly encoding: 'GSM-7' | 'UCS-2';
  /** Septets in GSM-7 (two for an extension character), UTF-16 units in UCS-2. */
  readonly units: number;
  readonly segments: number;
  /** Each character that forces UCS-2, once, in order: `’ U+2019`. */
  readonly outside: readonly string[];
};

/**
 * How a carrier cuts a text into parts: 160 septets alone and 153 in each of several, or 70 and 67 UTF-16 units once a
 * single character stands outside the basic alphabet and its extension. What belongs together is not cut: the two septets
 * of an extension character, the halves of a surrogate pair, a joined emoji.
 * Source: 3GPP TS 23.038 section 6.2.1 (read as quoted); part sizes as carriers publish them.
 */
export function textParts(text: string): TextParts {
  const outside = [...new Set([...text].filter((char) => !BASIC.has(char) && !EXTENSION.has(char)))];
  if (outside.length === 0) {
    const sizes = [...text].map((char) => (EXTENSION.has(char) ? 2 : 1));
    return { encoding: 'GSM-7', units: sum(sizes), segments: cut(sizes, 160, 153), outside: [] };
  }
  const sizes = [...clusters.segment(text)].map((cluster) => cluster.segment.length);
  return { encoding: 'UCS-2', units: text.length, segments: cut(sizes, 70, 67), outside: outside.map(named) };
}

const BASIC = new Set(
  '@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !"#¤%&\'()*+,-./0123456789:;<=>?¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà',
);
const EXTENSION = new Set('\f^{}\\[~]|€');
const clusters = new Intl.Segmenter('en', { granularity: 'grapheme' });

const sum = (sizes: readonly number[]) => sizes.reduce((total, size) => total + size, 0);

function cut(sizes: readonly number[], alone: number, each: number): number {
  if (sum(sizes) <= alone) return 1;
  let segments = 1;
  let used = 0;
  for (const size of sizes) {
    if (used + size > each) {
      segments += 1;
      used = 0;
    }
    used += size;
  }
  return segments;
}

const named = (char: string) =>
  `${char} U+${char.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;
